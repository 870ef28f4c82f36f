// cases/read_service.cpp — reads [use], [overload], [build], [require] and their lists.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "cases/service.h"
#include "cases/table_or_nothing.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr Range temperatures{.least = -50.0, .most = 400.0};
constexpr Range per_cent{.least = 0.0, .most = 100.0};
constexpr Range torques{.least = 0.0, .most = 1e7, .least_open = true};
constexpr Range small_lengths{.least = 0.0, .most = 10.0};  // mm

std::optional<double> scaled(std::optional<double> value, double factor) {
  if (value) *value *= factor;
  return value;
}

Use read_use(TableReader& table) {
  Use use;
  use.ambient = table.number_or("ambient_C", use.ambient, Range::between(-50.0, 150.0));
  use.load = table.optional_number("load_Nm", torques);
  if (!use.load) table.assume("load_Nm", "0.6 of the slip torque expected on the bench");
  use.fan = table.flag_or("fan", use.fan);
  use.bench_time = 60 * table.number_or("bench_minutes", 10.0, Range::between(0.1, 1e5));
  return use;
}

DutyPart read_duty(TableReader& table) {
  DutyPart part;
  part.duration = 60 * table.number("minutes", Range{.least = 0.01, .most = 1e5});
  part.load = table.number("load_Nm", Range::between(0.0, 1e7));
  if (const auto rpm = table.optional_number("input_speed_rpm", Range::between(-1e6, 1e6)))
    part.input_speed = from_rpm(*rpm);
  table.finish();
  return part;
}

Measured read_measured(TableReader& table) {
  Measured measured;
  measured.is_path = table.exactly_one_of({"part", "path"}) == "path";
  if (measured.is_path) {
    measured.name = table.text("path");
    measured.value = table.number("conductance_W_per_K", Range{1e-6, 1e6});
  } else if (table.has("part")) {
    measured.name = table.text("part");
    measured.value = table.number("temperature_C", temperatures);
  }
  table.finish();
  return measured;
}

AskedOverload read_overload(TableReader& table) {
  AskedOverload overload;
  overload.torque = table.optional_number("torque_Nm", torques);
  if (!overload.torque) table.assume("torque_Nm", "1.2 of the slip torque expected on the bench");
  overload.duration = table.optional_number("seconds", Range{.least = 1e-6, .most = 1e5});
  if (!overload.duration) table.assume("seconds", "until the output stands and ten poles more");
  overload.brakes = table.choice_or<bool>("load_is", "brake", {{"brake", true}, {"weight", false}});
  overload.keeps_speed =
      table.choice_or<bool>("drive_keeps", "speed", {{"speed", true}, {"torque", false}});
  overload.damping =
      scaled(table.optional_number("damping_percent", Range::between(0.0, 1000.0)), 0.01);
  if (!overload.damping)
    table.assume("damping_percent", "from the losses in magnets, hub and back iron");
  return overload;
}

double length_or(TableReader& table, const char* key, double if_missing) {
  // Hundredths of a millimetre, so that the default is listed as one would write it.
  const double usual = std::round(to_mm(if_missing) * 100) / 100;
  return from_mm(table.number_or(key, usual, small_lengths));
}

Tolerances read_tolerances(TableReader& table) {
  Tolerances t;
  t.bearing_play = length_or(table, "bearing_play_mm", t.bearing_play);
  t.run_out = length_or(table, "run_out_mm", t.run_out);
  t.roundness = length_or(table, "roundness_mm", t.roundness);
  t.magnet = length_or(table, "magnet_tolerance_mm", t.magnet);
  t.glue_line = length_or(table, "glue_line_mm", t.glue_line);
  return t;
}

Build read_build(TableReader& table) {
  Build build;
  const char* const carriers[] = {"sun_carrier", "modulator_carrier", "ring_carrier"};
  for (std::size_t m = 0; m < 3; ++m)
    build.carrier_names[m] = table.text_or(carriers[m], build.carrier_names[m]);
  build.held_at_both_ends = table.choice_or<bool>("pole_pieces_held", "both ends",
                                                  {{"both ends", true}, {"one end", false}});
  build.bonded = table.flag_or("pole_pieces_bonded", true);
  build.rod_diameter = from_mm(table.number_or("rod_diameter_mm", 0.0, length_or_zero));
  build.sheets_stacked =
      table.choice_or<SheetsStacked>("sheets_stacked", "along the axis",
                                     {{"along the axis", SheetsStacked::along_axis},
                                      {"along the circle", SheetsStacked::tangentially},
                                      {"along the radius", SheetsStacked::radially}});
  build.cutting_factor =
      table.number_or("cutting_factor", build.cutting_factor, Range::between(1.0, 5.0));
  build.shaft_diameter = from_mm(table.number_or("shaft_diameter_mm", 0.0, length_or_zero));
  build.tolerances = read_tolerances(table);
  const Range inertias{.least = 0.0, .most = 1e6, .least_open = true};
  build.input_inertia = table.optional_number("input_inertia_kg_m2", inertias);
  build.output_inertia = table.optional_number("output_inertia_kg_m2", inertias);
  return build;
}

std::optional<TurnsWith> side_named(const std::string& name) {
  if (name == "sun") return TurnsWith::sun;
  if (name == "modulator") return TurnsWith::modulator;
  if (name == "ring") return TurnsWith::ring;
  if (name == "housing") return TurnsWith::housing;
  return std::nullopt;
}

Sides read_sides(TableReader& table) {
  const std::string one = table.text("turns"), other = table.text_or("sits_in", "housing");
  const auto first = side_named(one), second = side_named(other);
  const std::string right = "; it must be \"sun\", \"modulator\", \"ring\" or \"housing\".";
  if (!first && table.has("turns")) table.complain("turns", "is " + in_quotes(one) + right);
  if (!second) table.complain("sits_in", "is " + in_quotes(other) + right);
  if (first && second && *first == *second)
    table.complain("turns", "and sits_in are the same; a bearing lies between two parts.");
  return {first.value_or(TurnsWith::sun), second.value_or(TurnsWith::housing)};
}

Bearing read_bearing(TableReader& table) {
  Bearing bearing;
  bearing.sides = read_sides(table);
  bearing.name = table.has("turns") ? table.text("turns") + " bearings" : "bearings";
  bearing.count = table.integer_or("count", 2, 1, 100);
  bearing.bore = from_mm(table.number("bore_mm", length_range));
  bearing.load = table.number_or("load_N", 10.0, Range::between(0.0, 1e6));
  bearing.friction = table.number_or("friction", usual_bearing_friction, Range::between(0.0, 1.0));
  bearing.seal_torque =
      table.number_or("seal_drag_mNm", 1e3 * usual_rubbing_seals, Range::between(0.0, 1e6)) / 1e3;
  table.finish();
  return bearing;
}

Requirements read_requirements(TableReader& table) {
  Requirements require;
  require.slip_torque = table.optional_number("slip_torque_Nm", torques);
  require.safety_factor =
      table.number_or("safety_factor", require.safety_factor, Range::between(1.0, 100.0));
  require.cogging = scaled(table.optional_number("cogging_percent", per_cent), 0.01);
  require.efficiency = scaled(table.optional_number("efficiency_percent", per_cent), 0.01);
  require.magnet_margin =
      0.01 * table.number_or("magnet_margin_percent", 100 * require.magnet_margin, per_cent);
  require.clearance =
      from_mm(table.number_or("clearance_mm", to_mm(require.clearance), small_lengths));
  require.magnet_temperature = table.optional_number("magnet_temperature_C", temperatures);
  require.active_mass = table.optional_number("active_mass_kg", Range::positive());
  require.outer_diameter = scaled(table.optional_number("outer_diameter_mm", length_range), 1e-3);
  return require;
}

}  // namespace

Service read_service(TableReader& root, ReadLog& log) {
  const auto n_before = static_cast<std::ptrdiff_t>(log.assumed.size());
  TableOrNothing use(root, "use", log), overload(root, "overload", log), build(root, "build", log),
      require(root, "require", log);
  Service service;
  service.use = read_use(use.reader());
  use.reader().finish();
  for (TableReader& part : root.tables("duty")) service.use.duty.push_back(read_duty(part));
  for (TableReader& one : root.tables("measured")) service.measured.push_back(read_measured(one));
  service.overload = read_overload(overload.reader());
  overload.reader().finish();
  service.build = read_build(build.reader());
  build.reader().finish();
  for (TableReader& bearing : root.tables("bearing"))
    service.build.bearings.push_back(read_bearing(bearing));
  service.require = read_requirements(require.reader());
  require.reader().finish();
  service.assumed.assign(log.assumed.begin() + n_before, log.assumed.end());
  log.assumed.resize(static_cast<std::size_t>(n_before));
  return service;
}

}  // namespace lodegear
