// cases/read_rotor.cpp — [sun] and [ring]: steel, odd magnets, lengths.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "cases/read_gear.h"
#include "cases/units.h"

namespace lodegear {

namespace {

/// Steel is set back at least so far from blocks that nobody gave a clearance: contact along a line
/// or in a point cannot be meshed.
constexpr double least_set_back = 0.05e-3;  // m

/// Half of a block with its clearance, along and across its radius, m.
struct HalfBlock {
  double along = 0.0;
  double across = 0.0;
};
HalfBlock half_block(const BlockMagnets& blocks) {
  const double along = blocks.thickness / 2 + std::max(blocks.clearance, least_set_back);
  const double across = blocks.width / 2 + blocks.clearance;
  if (!blocks.turned_to_pattern) return {along, across};
  return {std::hypot(along, across), 0.0};
}

/// A hub that the magnets lie on, mm: round, so that flat blocks touch it in their middle. Blocks
/// turned in their pockets clear it.
double default_hub_radius(const MagnetRotor& rotor) {
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  if (!blocks) return to_mm(rotor.inner_radius);
  return std::floor(to_mm(blocks->centre_radius - half_block(*blocks).along) * 100 + 1e-6) / 100;
}

/// A tube that the magnets lie in, mm: round, so that flat blocks touch it with their corners.
double default_tube_radius(const MagnetRotor& rotor) {
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  if (!blocks) return to_mm(rotor.outer_radius);
  const HalfBlock half = half_block(*blocks);
  return std::ceil(to_mm(std::hypot(blocks->centre_radius + half.along, half.across)) * 100 -
                   1e-6) /
         100;
}

Iron read_hub(TableReader& table, const MagnetRotor& rotor) {
  Iron hub;
  hub.material = table.text("material");
  hub.inner_radius = from_mm(table.number_or("inner_radius_mm", 0.0, length_or_zero));
  hub.outer_radius =
      from_mm(table.number_or("outer_radius_mm", default_hub_radius(rotor), length_range));
  table.finish();
  return hub;
}

Iron read_back_iron(TableReader& table, const MagnetRotor& rotor) {
  Iron iron;
  iron.material = table.text("material");
  iron.inner_radius =
      from_mm(table.number_or("inner_radius_mm", default_tube_radius(rotor), length_range));
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

void read_odd_magnets(TableReader& rotor_table, MagnetRotor& rotor) {
  for (TableReader& table : rotor_table.tables("odd_magnet")) {
    const OddMagnet odd = read_odd_magnet(table);
    const auto same = [&odd](const OddMagnet& other) { return other.index == odd.index; };
    if (std::any_of(rotor.odd_magnets.begin(), rotor.odd_magnets.end(), same))
      table.complain("index", "is " + std::to_string(odd.index) +
                                  ", a magnet that was described before; say all about it in one "
                                  "table.");
    rotor.odd_magnets.push_back(odd);
  }
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
  result.remanence =
      magnets.optional_number("remanence_percent", Range::between(1.0, 150.0)).value_or(100.0) /
      100.0;
  magnets.finish();
  if (member == Member::sun) {
    if (auto hub = table.optional_table("hub")) rotor.iron = read_hub(*hub, rotor);
    refuse(table, {"back_iron"}, "belongs to the ring; the sun's steel is [sun.hub].");
  } else {
    if (auto iron = table.optional_table("back_iron")) rotor.iron = read_back_iron(*iron, rotor);
    refuse(table, {"hub"}, "belongs to the sun; the ring's steel is [ring.back_iron].");
  }
  read_odd_magnets(table, rotor);
  read_placement(table, common, rotor);
  table.finish();
  return result;
}

}  // namespace lodegear
