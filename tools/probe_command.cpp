// tools/probe_command.cpp — `lodegear probe`: flux density on a circle or at points.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <charconv>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <memory>

#include "cases/csv_files.h"
#include "cases/probe.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "cases/slip_figures.h"
#include "cases/staged_files.h"
#include "cases/units.h"
#include "materials/words.h"
#include "tools/case_options.h"
#include "tools/commands.h"
#include "tools/exit_codes.h"

namespace lodegear {

namespace {

struct ProbeRequest {
  std::filesystem::path case_file, out, materials;
  std::optional<double> radius, sun, modulator, ring;  // mm, degrees
  int points = 360;
  std::vector<std::string> at;
  bool force = false;
};

constexpr const char* help =
    R"(Computes the field at one position and writes the flux density as CSV, for comparison with a Hall
probe: x_mm,y_mm,radius_mm,angle_deg,B_x_T,B_y_T,B_r_T,B_theta_T,B_T. Angles are counter-clockwise
from +x; B_r points outwards, B_theta counter-clockwise. A flat probe of some millimetres averages;
compare with several points across it. Cells inside ideal iron stay empty.

Examples:
  lodegear probe my_gear.toml --radius 30.5 --points 720 --out gap.csv
  lodegear probe my_gear.toml --at 30.5,0 0,-30.5 --modulator-deg 5)";

/// "30.5,-2" in mm as a point in m.
Eigen::Vector2d point(const std::string& text) {
  Eigen::Vector2d x;
  const char *from = text.data(), *end = from + text.size();
  for (int i = 0; i < 2; ++i) {
    const auto number = std::from_chars(from, end, x[i]);
    const bool good = number.ec == std::errc() && std::isfinite(x[i]) &&
                      (i == 0 ? number.ptr != end && *number.ptr == ',' : number.ptr == end);
    if (!good)
      throw InputError(
          {{{},
            "--at",
            in_quotes(text) + " is no point; write it as X,Y in millimetres, as 30.5,-2."}});
    from = number.ptr + 1;
  }
  return x / 1000.0;
}

std::vector<Eigen::Vector2d> wanted_points(const ProbeRequest& request) {
  if (request.radius.has_value() == !request.at.empty())
    throw InputError("Give either --radius MM for a circle, or --at X,Y for points.");
  if (request.radius && !(*request.radius > 0.0 && *request.radius <= 1e5))
    throw InputError({{{}, "--radius", "must be above 0 and at most 100000 mm."}});
  if (request.radius) return circle_points(from_mm(*request.radius), request.points);
  std::vector<Eigen::Vector2d> points;
  for (const std::string& text : request.at) points.push_back(point(text));
  return points;
}

/// An angle from the command line, or that of the case.
double angle(const std::optional<double>& degrees, double if_missing, const char* option) {
  if (!degrees) return if_missing;
  if (!(std::abs(*degrees) <= 36000.0))
    throw InputError({{{}, option, "must be between -36000 and 36000 degrees."}});
  return from_deg(*degrees);
}

Position wanted_position(const ProbeRequest& request, const Gear& gear) {
  const Position start = start_position(gear);
  return {.sun = angle(request.sun, start.sun, "--sun-deg"),
          .modulator = angle(request.modulator, start.modulator, "--modulator-deg"),
          .ring = angle(request.ring, start.ring, "--ring-deg")};
}

std::string row(const Eigen::Vector2d& x, const std::optional<Eigen::Vector2d>& b) {
  const double theta = std::atan2(x[1], x[0]);
  std::string text = cell(to_mm(x[0])) + "," + cell(to_mm(x[1])) + "," + cell(to_mm(x.norm())) +
                     "," + cell(to_deg(theta < 0 ? theta + 2 * std::numbers::pi : theta));
  if (!b) return text + ",,,,,\n";
  const double radial = std::cos(theta) * (*b)[0] + std::sin(theta) * (*b)[1];
  const double along = std::cos(theta) * (*b)[1] - std::sin(theta) * (*b)[0];
  for (const double value : {(*b)[0], (*b)[1], radial, along, b->norm()}) text += "," + cell(value);
  return text + "\n";
}

std::string table(const Probe& probe, const std::vector<Eigen::Vector2d>& points) {
  std::string text = "x_mm,y_mm,radius_mm,angle_deg,B_x_T,B_y_T,B_r_T,B_theta_T,B_T\n";
  int empty = 0;
  for (const Eigen::Vector2d& x : points) {
    const auto b = probe.flux_density_at(x);
    empty += b ? 0 : 1;
    text += row(x, b);
  }
  if (empty > 0)
    std::cerr << empty << " of " << points.size()
              << " points lie inside ideal iron, where there is no field to give; their cells are "
                 "empty.\n";
  return text;
}

int run(const ProbeRequest& request) {
  const std::vector<Eigen::Vector2d> points = wanted_points(request);
  const Catalogue catalogue = catalogue_with(request.materials);
  const Case c = read_case(request.case_file, catalogue);
  const Position position = wanted_position(request, c.gear);
  if (!request.out.empty()) check_new_file(request.out, request.force);

  const PreparedCase prepared = prepared_case(c);
  const FieldSolution solution = solved_position(prepared, position);
  const std::string text = table(Probe(prepared.solver->problem(), solution), points);
  if (request.out.empty())
    std::cout << text;
  else
    write_whole_file(request.out, text);
  return exit_good;
}

}  // namespace

Command add_probe(CLI::App& app) {
  const auto request = std::make_shared<ProbeRequest>();
  CLI::App* probe = app.add_subcommand("probe", "Flux density on a circle or at points, as CSV");
  probe->footer(help);
  probe->add_option("CASE", request->case_file, "The case file")->required()->type_name(".toml");
  probe->add_option("-r,--radius", request->radius, "A circle around the axis")->type_name("MM");
  probe->add_option("-n,--points", request->points, "Points on the circle, evenly spaced from +x")
      ->check(between(1, 1000000))
      ->capture_default_str()
      ->type_name("N");
  probe->add_option("--at", request->at, "Single points, millimetres")->type_name("X,Y");
  probe->add_option("--sun-deg", request->sun, "Angle of the sun; else as the case says")
      ->type_name("DEG");
  probe->add_option("--modulator-deg", request->modulator, "Angle of the modulator")
      ->type_name("DEG");
  probe->add_option("--ring-deg", request->ring, "Angle of the ring")->type_name("DEG");
  probe->add_option("--materials", request->materials, "Folder with materials of your own")
      ->type_name("DIR");
  probe->add_option("-o,--out", request->out, "File to write; else the table goes to the screen")
      ->type_name("FILE");
  probe->add_flag("--force", request->force, "Replace the file if there is one");
  return [request] { return run(*request); };
}

}  // namespace lodegear
