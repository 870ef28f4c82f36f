// cases/read_rotor.cpp — [sun] and [ring]: steel, odd magnets, lengths.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "cases/read_gear.h"
#include "cases/units.h"

namespace lodegear {

namespace {

/// Radius at which the magnets (with their clearance) begin or end, m: where steel would touch
/// them.
double band_end(const MagnetRotor& rotor, Member member) {
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  if (!blocks) return member == Member::sun ? rotor.inner_radius : rotor.outer_radius;
  const double c = blocks->clearance, width = blocks->width / 2 + c;
  const double thickness = blocks->thickness / 2 + c;
  const double reach = blocks->turned_to_pattern ? std::hypot(width, thickness) : thickness;
  if (member == Member::sun) return blocks->centre_radius - reach;
  return blocks->turned_to_pattern ? blocks->centre_radius + reach
                                   : std::hypot(blocks->centre_radius + thickness, width);
}

/// A default radius: what would be written in the file, to a micrometre.
double rounded_mm(double metres) { return std::round(to_mm(metres) * 1e3) / 1e3; }

Iron read_hub(TableReader& table, const MagnetRotor& rotor) {
  Iron hub;
  hub.material = table.text("material");
  hub.inner_radius = from_mm(table.number_or("inner_radius_mm", 0.0, length_or_zero));
  hub.outer_radius = from_mm(
      table.number_or("outer_radius_mm", rounded_mm(band_end(rotor, Member::sun)), length_range));
  table.finish();
  return hub;
}

Iron read_back_iron(TableReader& table, const MagnetRotor& rotor) {
  Iron iron;
  iron.material = table.text("material");
  iron.inner_radius = from_mm(
      table.number_or("inner_radius_mm", rounded_mm(band_end(rotor, Member::ring)), length_range));
  iron.outer_radius = from_mm(table.number("outer_radius_mm", length_range));
  table.finish();
  return iron;
}

OddMagnet read_odd_magnet(TableReader& table) {
  OddMagnet odd;
  odd.index = table.integer("index", 0, 100000);
  odd.missing = table.optional_flag("missing").value_or(false);
  const bool reversed = table.optional_flag("reversed").value_or(false);
  const auto strength = table.optional_number("strength_percent", Range::between(0.0, 200.0));
  const auto turned = table.optional_number("turned_deg", angle_range);
  odd.strength = strength.value_or(100.0) / 100.0 * (reversed ? -1.0 : 1.0);
  odd.turned = from_deg(turned.value_or(0.0));
  if (!odd.missing && !reversed && !strength && !turned)
    table.complain("",
                   "does not say how the magnet differs; give missing = true, reversed = true, "
                   "strength_percent or turned_deg.");
  if (odd.missing && (reversed || strength || turned))
    table.complain("missing",
                   "is true; a missing magnet cannot be reversed, weak or turned as well.");
  table.finish();
  return odd;
}

}  // namespace

RotorInFile read_rotor(TableReader& table, Member member, int pole_pairs,
                       const CommonValues& common) {
  RotorInFile result;
  MagnetRotor& rotor = result.rotor;
  rotor.pole_pairs = pole_pairs;
  TableReader magnets = table.table("magnets");
  read_magnets(magnets, member, rotor);
  result.temperature =
      magnets.number_or("temperature_C", common.temperature, Range::between(-200.0, 400.0));
  magnets.finish();
  if (member == Member::sun) {
    if (auto hub = table.optional_table("hub")) rotor.iron = read_hub(*hub, rotor);
    refuse(table, {"back_iron"}, "belongs to the ring; the sun's steel is [sun.hub].");
  } else {
    if (auto iron = table.optional_table("back_iron")) rotor.iron = read_back_iron(*iron, rotor);
    refuse(table, {"hub"}, "belongs to the sun; the ring's steel is [ring.back_iron].");
  }
  for (TableReader& odd : table.tables("odd_magnet"))
    rotor.odd_magnets.push_back(read_odd_magnet(odd));
  rotor.initial_angle = from_deg(table.number_or("initial_angle_deg", 0.0, angle_range));
  rotor.active_length =
      from_mm(table.number_or("active_length_mm", common.stack_length, length_range));
  rotor.axial_offset =
      from_mm(table.number_or("axial_offset_mm", 0.0, Range::between(-10000.0, 10000.0)));
  table.finish();
  return result;
}

}  // namespace lodegear
