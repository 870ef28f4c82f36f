// tools/picture_command.cpp — `lodegear picture`: the field of a case, to be looked at.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <memory>

#include "case_options.h"
#include "cases/read_case.h"
#include "cases/staged_files.h"
#include "cases/units.h"
#include "commands.h"
#include "exit_codes.h"
#include "materials/words.h"
#include "tools/pictures/case_picture.h"

namespace lodegear {

namespace {

struct PictureRequest {
  std::filesystem::path case_file, out, materials;
  double load_angle = 0.0;  // electrical degrees
  std::string show = "flux-density";
  int size = 900, threads = 1;
  bool force = false;
};

constexpr const char* help =
    R"(Solves the field at one position and draws it. The ending of FILE tells how:
  .svg  flux density in colours with its scale, flux lines, in one file
  .png  the same without the scale
  .vtu  mesh, vector potential, flux density and what is shown for a viewer of unstructured grids
        (VTK)
What is shown:
  flux-density  with flux lines; of .vtu always there
  loss          W/m3 in the mean over a cycle in step, at the speed of the case and magnets and
                sleeves at 20 C; eddy loss of a solid body is spread evenly over it
  margin        how far the magnets stay from the knee of their curve at this position; below 0 some
                of their strength is lost
  worst-margin  the same, the worst of a cycle in step; 'validate' follows a slip besides

Examples:
  lodegear picture my_gear.toml --out field.svg
  lodegear picture my_gear.toml --load-angle-deg 90 --out at_slip.vtu
  lodegear picture my_gear.toml --show loss --load-angle-deg 45 --out loss.svg)";

int run(const PictureRequest& request) {
  const std::string ending = request.out.extension().string();
  if (ending != ".svg" && ending != ".png" && ending != ".vtu")
    throw InputError(
        {{{}, "--out", in_quotes(request.out.string()) + " must end with .svg, .png or .vtu."}});
  const Catalogue catalogue = catalogue_with(request.materials);
  const Case c = read_case(request.case_file, catalogue);
  check_new_file(request.out, request.force);
  const CasePicture picture =
      case_picture(c, subject_of(request.show), from_deg(request.load_angle), request.threads);
  write_whole_file(request.out, picture_file(picture, c, ending, request.size));
  return exit_good;
}

}  // namespace

Command add_picture(CLI::App& app) {
  const auto request = std::make_shared<PictureRequest>();
  CLI::App* picture = app.add_subcommand("picture", "The field of a case, to be looked at");
  picture->footer(help);
  picture->add_option("CASE", request->case_file, "The case file")->required()->type_name(".toml");
  picture
      ->add_option("--load-angle-deg", request->load_angle,
                   "How far the gear is wound up, electrical degrees; about 90 is slip")
      ->check(CLI::Range(-3600.0, 3600.0).description(""))
      ->capture_default_str()
      ->type_name("DEG");
  picture->add_option("--show", request->show, "What is shown")
      ->check(CLI::IsMember(subject_names()).description(""))
      ->capture_default_str()
      ->type_name("WHAT");
  picture->add_option("-t,--threads", request->threads, "For the positions of a cycle")
      ->check(between(1, 1024))
      ->capture_default_str()
      ->type_name("N");
  picture->add_option("--size", request->size, "Width and height in pixels")
      ->check(between(100, 4000))
      ->capture_default_str()
      ->type_name("PX");
  picture->add_option("--materials", request->materials, "Folder with materials of your own")
      ->type_name("DIR");
  picture->add_option("-o,--out", request->out, "File to write: .svg, .png or .vtu")
      ->required()
      ->type_name("FILE");
  picture->add_flag("--force", request->force, "Replace the file if there is one");
  return [request] { return run(*request); };
}

}  // namespace lodegear
