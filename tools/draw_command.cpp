// tools/draw_command.cpp — `lodegear draw`: what a workshop needs to build a gear.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <charconv>
#include <cmath>
#include <iostream>
#include <memory>

#include "cases/units.h"
#include "cases/validate_case.h"
#include "materials/words.h"
#include "tools/case_options.h"
#include "tools/commands.h"
#include "tools/drawings/bench_sheet.h"
#include "tools/drawings/draw_files.h"
#include "tools/exit_codes.h"

namespace lodegear {

namespace {

constexpr const char* help = R"(
Writes what a workshop needs into a folder of its own, all files or none:
  *.dxf              lamination, sheet full of laminations, hub, back iron, carriers, cage,
                     drilling template, cross-section; mm, closed outlines
  *.svg              the same with dimensions, to be printed at 100 %
  drawings.pdf       all of these on pages true to size, and the next
  placement_*.svg    every magnet of a rotor at true size: number, turn, arrow, north
  placement.csv, placement.txt   the same as a table; order of assembly, finding a wrong one
  *.stl              carriers and cage for the printer
  parts.csv, parts.txt           what to buy and to make; forces to expect
  bench_sheet.txt    mass on a lever arm at slip, cogging, field in the gaps, forces
  drawings.json      the files and their fingerprints
Files that were edited since are not overwritten without --force.

Example:
  lodegear draw my_gear.toml --out my_gear_drawings --kerf-mm 0.15

Exit codes: 0 good, 2 the input is wrong, 3 a position has no solution (--no-field draws all the
same), 4 cannot write, 130 stopped by Ctrl-C.)";

struct DrawRequest {
  CaseOptions options;
  std::filesystem::path out;
  bool force = false;
  bool no_field = false;
  double kerf_mm = 0.0, arm_mm = 500.0, fit_mm = 0.15, relief_mm = 0.5, plate_mm = 3.0;
  std::string sheet_mm;
  std::vector<double> magnet_price;
};

double length_of(double mm, double least, double most, const char* option) {
  if (!(mm >= least && mm <= most))
    throw InputError({{{},
                       option,
                       "is " + number_text(mm) + "; it must be between " + number_text(least) +
                           " and " + number_text(most) + " mm."}});
  return from_mm(mm);
}

/// "300x200", also "300 x 200" or with the sign ×.
void set_sheet(DrawOptions& options, std::string text) {
  if (const auto sign = text.find("×"); sign != std::string::npos) text.replace(sign, 2, "x");
  std::erase(text, ' ');
  double length = 0.0, width = 0.0;
  const char* end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, length);
  const bool joined = first.ec == std::errc() && first.ptr != end && *first.ptr == 'x';
  const auto second = joined ? std::from_chars(first.ptr + 1, end, width) : first;
  if (!joined || second.ec != std::errc() || second.ptr != end)
    throw InputError({{{},
                       "--sheet-mm",
                       in_quotes(text) + " is no sheet; write it as LENGTHxWIDTH, as 300x200."}});
  options.sheet_length = length_of(length, 1.0, 1e5, "--sheet-mm");
  options.sheet_width = length_of(width, 1.0, 1e5, "--sheet-mm");
}

DrawOptions draw_options(const DrawRequest& request) {
  DrawOptions options;
  options.kerf = length_of(request.kerf_mm, 0.0, 5.0, "--kerf-mm");
  options.fit = length_of(request.fit_mm, 0.0, 5.0, "--fit-mm");
  options.relief = length_of(request.relief_mm, 0.0, 10.0, "--relief-mm");
  options.plate = length_of(request.plate_mm, 0.0, 100.0, "--plate-mm");
  if (!request.sheet_mm.empty()) set_sheet(options, request.sheet_mm);
  options.arm = length_of(request.arm_mm, 10.0, 10000.0, "--arm-mm");
  for (const double price : request.magnet_price)
    if (!(price >= 0.0 && price <= 1e6))
      throw InputError({{{}, "--magnet-price", "must be between 0 and 1000000."}});
  if (!request.magnet_price.empty()) {
    options.sun_magnet_price = request.magnet_price.front();
    options.ring_magnet_price = request.magnet_price.back();
  }
  return options;
}

bool is_whole_gear(const Case& c) {
  return c.gear.sun && c.gear.modulator && c.gear.ring && c.slip && c.running;
}

/// The bench sheet needs what `validate` finds, and the cogging besides.
std::string bench_sheet(const DrawRequest& request, Case c, const Catalogue& catalogue,
                        double arm) {
  Validation validation;
  if (!c.service.require.cogging) c.service.require.cogging = 1.0;  // to have it computed
  with_progress(request.options,
                [&](const RunOptions& run) { validation = validate_case(c, catalogue, run); });
  return bench_text(validation, arm);
}

int run(const DrawRequest& request) {
  if (request.out.empty()) throw InputError({{{}, "--out", "is empty; it must name a folder."}});
  const DrawOptions options = draw_options(request);
  const Catalogue catalogue = catalogue_with(request.options.materials);
  const Case c = case_of(request.options, catalogue);
  check_drawing_folder(request.out, c, request.force);
  Files files = drawing_files(c, options);
  if (!request.no_field && is_whole_gear(c))
    files.emplace_back("bench_sheet.txt", bench_sheet(request, c, catalogue, options.arm));
  write_drawings(files, c, request.out, request.force);
  std::vector<std::string> names;
  for (const auto& [name, bytes] : files) names.push_back(name);
  std::cout << "Written to " << request.out.string() << ": " << listed(names, " and ") << "\n";
  if (!request.no_field && !is_whole_gear(c))
    std::cout
        << "No bench sheet: it needs sun, modulator and ring, and slip and running computed.\n";
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
  draw->add_option("--sheet-mm", request->sheet_mm,
                   "Stock sheet for laminations; else the smallest usual one")
      ->type_name("LxW");
  draw->add_option("--fit-mm", request->fit_mm,
                   "Clearance of a printed pocket around a pole piece, on every side")
      ->capture_default_str()
      ->type_name("MM");
  draw->add_option("--relief-mm", request->relief_mm,
                   "Radius of the relief in the corners of a pocket; 0 = none")
      ->capture_default_str()
      ->type_name("MM");
  draw->add_option("--plate-mm", request->plate_mm,
                   "Thickness of the plate that printed carriers stand on; 0 = none")
      ->capture_default_str()
      ->type_name("MM");
  draw->add_option("--arm-mm", request->arm_mm, "Lever arm on the bench")
      ->capture_default_str()
      ->type_name("MM");
  draw->add_option("--magnet-price", request->magnet_price,
                   "Price of one magnet; a second figure is that of the ring's")
      ->expected(1, 2)
      ->type_name("PRICE");
  draw->add_flag("--no-field", request->no_field,
                 "Leave out the bench sheet, which takes as long as validate");
  return [request] { return run(*request); };
}

}  // namespace lodegear
