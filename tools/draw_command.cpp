// tools/draw_command.cpp — `lodegear draw`: what a workshop needs to build a gear.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <charconv>
#include <cmath>
#include <iostream>
#include <memory>

#include "cases/units.h"
#include "materials/words.h"
#include "tools/case_options.h"
#include "tools/commands.h"
#include "tools/drawings/draw_files.h"
#include "tools/exit_codes.h"

namespace lodegear {

namespace {

constexpr const char* help = R"(
Writes what a workshop needs into a folder of its own, all files or none: DXF for the cutter,
dimensioned drawings, a chart for placing the magnets, lists.

Example:
  lodegear draw my_gear.toml --out my_gear_drawings --kerf-mm 0.15

Exit codes: 0 good, 2 the input is wrong, 4 cannot write, 130 stopped by Ctrl-C.)";

struct DrawRequest {
  CaseOptions options;
  std::filesystem::path out;
  bool force = false;
  double kerf_mm = 0.0;
};

double length_of(double mm, double least, double most, const char* option) {
  if (!(mm >= least && mm <= most))
    throw InputError({{{},
                       option,
                       "is " + number_text(mm) + "; it must be between " + number_text(least) +
                           " and " + number_text(most) + " mm."}});
  return from_mm(mm);
}

DrawOptions draw_options(const DrawRequest& request) {
  DrawOptions options;
  options.kerf = length_of(request.kerf_mm, 0.0, 5.0, "--kerf-mm");
  return options;
}

int run(const DrawRequest& request) {
  if (request.out.empty()) throw InputError({{{}, "--out", "is empty; it must name a folder."}});
  const DrawOptions options = draw_options(request);
  const Case c = case_of(request.options, catalogue_with(request.options.materials));
  check_drawing_folder(request.out, c, request.force);
  const Files files = drawing_files(c, options);
  write_drawings(files, c, request.out, request.force);
  std::vector<std::string> names;
  for (const auto& [name, bytes] : files) names.push_back(name);
  std::cout << "Written to " << request.out.string() << ": " << listed(names, " and ") << "\n";
  return exit_good;
}

}  // namespace

Command add_draw(CLI::App& app) {
  const auto request = std::make_shared<DrawRequest>();
  CLI::App* draw = app.add_subcommand("draw", "Drawings, magnet chart, parts list for a workshop");
  draw->footer(help);
  add_case_options(*draw, request->options);
  draw->add_option("-o,--out", request->out, "Folder for the drawings; made if there is none")
      ->required()
      ->type_name("DIR");
  draw->add_flag("--force", request->force,
                 "Write even if the folder holds something else; files that are not ours stay");
  draw->add_option("--kerf-mm", request->kerf_mm,
                   "Width of the cutter's beam; outlines are moved by half of it")
      ->capture_default_str()
      ->type_name("MM");
  return [request] { return run(*request); };
}

}  // namespace lodegear
