// tools/picture_command.cpp — `lodegear picture`: the field of a case, to be looked at.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>

#include "case_options.h"
#include "cases/members.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "cases/slip_figures.h"
#include "cases/staged_files.h"
#include "cases/thermal_of_case.h"
#include "cases/units.h"
#include "cases/write_error.h"
#include "commands.h"
#include "exit_codes.h"
#include "materials/words.h"
#include "solver/motion/positions.h"
#include "tools/pictures/field_picture.h"
#include "tools/pictures/vtu.h"

namespace lodegear {

namespace {

struct PictureRequest {
  std::filesystem::path case_file, out, materials;
  double load_angle = 0.0;  // electrical degrees
  int size = 900;
  bool force = false;
};

constexpr const char* help =
    R"(Solves the field at one position and draws it. The ending of FILE tells how:
  .svg  flux density in colours with its scale, flux lines, in one file
  .png  the same without the scale
  .vtu  mesh, vector potential and flux density for a viewer of unstructured grids (VTK)

Examples:
  lodegear picture my_gear.toml --out field.svg
  lodegear picture my_gear.toml --load-angle-deg 90 --out at_slip.vtu)";

/// The members in step at the load angle, from where the case has them.
Position wanted_position(const PictureRequest& request, const Case& c) {
  Position position = start_position(c.gear);
  if (request.load_angle == 0.0) return position;
  if (!c.slip) throw InputError({{{}, "--load-angle-deg", "needs a gear of two members or more."}});
  const PoleCounts counts = pole_counts(c.gear);
  member_angle(position, c.slip->turned) +=
      from_deg(request.load_angle) / electrical_factor(counts, c.slip->turned);
  return position;
}

std::string content(const std::string& ending, const FieldProblem& problem,
                    const FieldSolution& solution, const Case& c, int size) {
  if (ending == ".vtu") return vtu_text(problem, solution);
  const double half_width = 0.52 * outer_diameter(c.gear);
  const FieldRaster samples = field_raster(problem, solution, {}, half_width, 2 * size);
  const PictureStyle style = settled_style(samples, {});
  const Raster picture = field_picture(samples, style);
  return ending == ".png" ? png_bytes(picture)
                          : field_svg(picture, style, "Flux density of " + c.name);
}

int run(const PictureRequest& request) {
  const std::string ending = request.out.extension().string();
  if (ending != ".svg" && ending != ".png" && ending != ".vtu")
    throw InputError(
        {{{}, "--out", in_quotes(request.out.string()) + " must end with .svg, .png or .vtu."}});
  const Catalogue catalogue = catalogue_with(request.materials);
  const Case c = read_case(request.case_file, catalogue);
  const Position position = wanted_position(request, c);
  if (!request.force && std::filesystem::exists(request.out))
    throw WriteError(request.out, "exists. Choose another name, or give --force.");
  const PreparedCase prepared = prepared_case(c);
  FieldSolution solution = prepared.solver->solve(position);
  if (!solution.summary.converged) {
    std::cerr << "No solution at this position: " << solution.summary.message << "\n";
    return exit_not_solved;
  }
  prepared.solver->fill_potentials(solution);
  write_whole_file(request.out,
                   content(ending, prepared.solver->problem(), solution, c, request.size));
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
