// tests/mesh/gears.h — gears that the mesh tests draw.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>

#include <string>
#include <vector>

#include "materials/constants.h"
#include "mesh/gear.h"

namespace lodegear {

inline constexpr double mm = 1e-3;
inline constexpr double degree = pi / 180;

inline MagnetRotor arc_rotor(int pole_pairs, double inner, double outer, MagnetPattern pattern) {
  MagnetRotor rotor;
  rotor.pole_pairs = pole_pairs;
  rotor.inner_radius = inner;
  rotor.outer_radius = outer;
  rotor.pattern = std::move(pattern);
  rotor.magnet = "magnet";
  rotor.active_length = 25 * mm;
  return rotor;
}

inline SectorPole sector_pole(double span_inner, double span_outer) {
  SectorPole pole;
  pole.span_inner = span_inner;
  pole.span_outer = span_outer;
  return pole;
}

inline Modulator sectors(int n, double inner, double outer) {
  Modulator modulator;
  modulator.pole_pieces = n;
  modulator.inner_radius = inner;
  modulator.outer_radius = outer;
  modulator.shape = sector_pole(pi / n, pi / n);
  modulator.material = "steel";
  return modulator;
}

/// 4/17/13, the gear on which speed is measured.
inline Gear standard_gear() {
  Gear gear;
  gear.sun = arc_rotor(4, 24 * mm, 30 * mm, SteppedHalbach{6, FluxSide::outward});
  gear.sun->iron = Iron{0.0, 24 * mm, "steel"};
  gear.modulator = sectors(17, 31 * mm, 37 * mm);
  gear.ring = arc_rotor(13, 38 * mm, 44 * mm, SteppedHalbach{4, FluxSide::inward});
  return gear;
}

/// 4/21/17 between ideal iron, pole pieces of ideal iron.
inline Gear ideal_iron_gear() {
  Gear gear;
  gear.sun = arc_rotor(4, 30 * mm, 36 * mm, AlternatingRadial{});
  gear.sun->iron = Iron{0.0, 30 * mm, ideal_iron_name};
  gear.modulator = sectors(21, 37 * mm, 42 * mm);
  gear.modulator->material = ideal_iron_name;
  gear.ring = arc_rotor(17, 43 * mm, 48 * mm, AlternatingRadial{});
  gear.ring->iron = Iron{48 * mm, 50 * mm, ideal_iron_name};
  return gear;
}

/// Radial block on each pole of the sun of `standard_gear`.
inline BlockMagnets block(double width, double thickness, double centre_radius,
                          double clearance = 0.0) {
  BlockMagnets blocks;
  blocks.width = width;
  blocks.thickness = thickness;
  blocks.centre_radius = centre_radius;
  blocks.clearance = clearance;
  return blocks;
}

/// A gear and the way its parts may change.
struct NamedGear {
  std::string name;
  Gear gear;
};

/// Every shape at least once, and what else may stand around it.
std::vector<NamedGear> gears_of_every_shape();

}  // namespace lodegear
