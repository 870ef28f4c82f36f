// cases/nudges.cpp — the inputs that a builder can change a little, and a case so changed.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/nudges.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"
#include "mesh/check_gear.h"

namespace lodegear {

namespace {

// Steps of practice, m and K, and of remanence.
constexpr double length_step = 1e-3, gap_step = 0.1e-3, thickness_step = 0.5e-3;
constexpr double grade_step = 0.03, temperature_step = 10.0, width_step = 0.01;
// Differences: large beside what a new mesh changes, small beside the bend of the curve.
constexpr double part_of_size = 0.03, part_of_gap = 0.3, part_of_remanence = 0.02;

MagnetRotor& rotor_in(Case& c, Member m) { return m == Member::sun ? *c.gear.sun : *c.gear.ring; }
const MagnetRotor& rotor_in(const Case& c, Member m) {
  return m == Member::sun ? *c.gear.sun : *c.gear.ring;
}

void shift(MagnetRotor& rotor, double by) {
  rotor.inner_radius += by;
  rotor.outer_radius += by;
  if (auto* blocks = std::get_if<BlockMagnets>(&rotor.shape)) blocks->centre_radius += by;
}

void shift_sun(Gear& gear, double by) {
  shift(*gear.sun, by);
  if (gear.sun->iron) gear.sun->iron->outer_radius += by;
}

void shift_ring(Gear& gear, double by) {
  shift(*gear.ring, by);
  if (!gear.ring->iron) return;
  gear.ring->iron->inner_radius += by;
  gear.ring->iron->outer_radius += by;
}

bool lies_radially(const MagnetRotor& rotor) {
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  return !blocks || (!blocks->turned_to_pattern && blocks->axis == BlockAxis::thickness);
}

double thickness(const MagnetRotor& rotor) {
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  return blocks ? blocks->thickness : rotor.outer_radius - rotor.inner_radius;
}

void thicken(MagnetRotor& rotor, double by, bool inwards) {
  if (inwards)
    rotor.inner_radius -= by;
  else
    rotor.outer_radius += by;
  if (auto* blocks = std::get_if<BlockMagnets>(&rotor.shape)) {
    blocks->thickness += by;
    blocks->centre_radius += inwards ? -by / 2 : by / 2;
  }
  if (!rotor.iron) return;
  if (inwards) {
    rotor.iron->outer_radius -= by;
  } else {
    rotor.iron->inner_radius += by;
    rotor.iron->outer_radius += by;
  }
}

void thicken_poles(Gear& gear, double by) {
  Modulator& m = *gear.modulator;
  m.outer_radius += by;
  if (auto* bar = std::get_if<RoundBar>(&m.shape)) {
    bar->diameter += by;
    bar->centre_radius += by / 2;
  } else if (auto& hole = std::get<SectorPole>(m.shape).hole) {
    hole->centre_radius += by / 2;
  }
  for (Sleeve& sleeve : gear.sleeves) {
    if (sleeve.gap != Gap::outer) continue;
    sleeve.inner_radius += by;
    sleeve.outer_radius += by;
  }
  shift_ring(gear, by);
}

/// The rotor gets a label of its own: both may be of one grade at one temperature.
MagnetInUse& own_magnet(Case& c, Member m) {
  MagnetRotor& rotor = rotor_in(c, m);
  const std::string label = std::string(name_of(m)) + " magnets, nudged";
  c.magnets[label] = c.magnets.at(rotor.magnet);
  rotor.magnet = label;
  return c.magnets[label];
}

Nudge nudge_of(std::string input, double now, double step, double difference) {
  Nudge nudge;
  nudge.input = std::move(input);
  nudge.now = now;
  nudge.step = step;
  nudge.difference = difference;
  return nudge;
}

Nudge in_mm(std::string input, double now, double step, double difference) {
  Nudge nudge = nudge_of(std::move(input), now, step, difference);
  nudge.unit = "mm";
  nudge.shown = 1e3;
  return nudge;
}

Nudge stack(const Case& c) {
  const double now = std::min(
      {c.gear.sun->active_length, c.gear.modulator->active_length, c.gear.ring->active_length});
  Nudge nudge = in_mm("stack length", now, length_step, part_of_size * now);
  nudge.in_field = false;
  nudge.apply = [](Case& changed, double by) {
    changed.gear.sun->active_length += by;
    changed.gear.modulator->active_length += by;
    changed.gear.ring->active_length += by;
  };
  return nudge;
}

Nudge gap(const Case& c, Gap which) {
  const GapClearance now = gap_clearance(c.gear, which);
  const double room = std::min(now.running_inner, now.running_outer);
  const bool inner = which == Gap::inner;
  Nudge nudge = in_mm(inner ? "inner gap" : "outer gap", now.magnetic, gap_step,
                      std::clamp(part_of_gap * room, 1e-6, gap_step));
  nudge.apply = [inner](Case& changed, double by) {
    inner ? shift_sun(changed.gear, -by) : shift_ring(changed.gear, by);
  };
  return nudge;
}

Nudge magnets(const Case& c, Member m) {
  const double now = thickness(rotor_in(c, m));
  Nudge nudge =
      in_mm(std::string(name_of(m)) + " magnet thickness", now, thickness_step, part_of_size * now);
  nudge.apply = [m](Case& changed, double by) {
    thicken(rotor_in(changed, m), by, m == Member::sun);
  };
  return nudge;
}

Nudge poles(const Case& c) {
  const double now = c.gear.modulator->outer_radius - c.gear.modulator->inner_radius;
  Nudge nudge = in_mm("pole piece thickness", now, thickness_step, part_of_size * now);
  nudge.apply = [](Case& changed, double by) { thicken_poles(changed.gear, by); };
  return nudge;
}

Nudge width(const Case& c) {
  const auto& shape = std::get<SectorPole>(c.gear.modulator->shape);
  const double pitch = 2 * pi / c.gear.modulator->pole_pieces;
  const double now = 0.5 * (shape.span_inner + shape.span_outer) / pitch;
  Nudge nudge = nudge_of("pole piece width", now, width_step, part_of_size * now);
  nudge.unit = "%";
  nudge.shown = 100;
  nudge.apply = [pitch](Case& changed, double by) {
    auto& pole = std::get<SectorPole>(changed.gear.modulator->shape);
    pole.span_inner += by * pitch;
    pole.span_outer += by * pitch;
  };
  return nudge;
}

Nudge strength(const Case& c, Member m) {
  const MagnetInUse& magnet = c.magnets.at(rotor_in(c, m).magnet);
  const double now = typical_remanence(magnet.material);
  Nudge nudge = nudge_of(std::string(name_of(m)) + " remanence", now, grade_step * now,
                         part_of_remanence * now);
  nudge.unit = "T";
  nudge.apply = [m](Case& changed, double by) {
    MagnetMaterial& material = own_magnet(changed, m).material;
    material.remanence_min += by;
    material.remanence_max += by;
  };
  return nudge;
}

Nudge warmth(const Case& c) {
  double mean = 0.0;
  for (const Member m : {Member::sun, Member::ring})
    mean += 0.5 * c.magnets.at(rotor_in(c, m).magnet).temperature;
  Nudge nudge = nudge_of("magnet temperature", mean, temperature_step, temperature_step);
  nudge.unit = "°C";
  nudge.percent = false;
  nudge.given = false;
  nudge.apply = [](Case& changed, double by) {
    for (const Member m : {Member::sun, Member::ring}) own_magnet(changed, m).temperature += by;
  };
  return nudge;
}

}  // namespace

std::vector<Nudge> nudges_of(const Case& c) {
  std::vector<Nudge> all = {stack(c), gap(c, Gap::inner), gap(c, Gap::outer)};
  for (const Member m : {Member::sun, Member::ring})
    if (lies_radially(rotor_in(c, m))) all.push_back(magnets(c, m));
  all.push_back(poles(c));
  if (std::holds_alternative<SectorPole>(c.gear.modulator->shape)) all.push_back(width(c));
  for (const Member m : {Member::sun, Member::ring}) all.push_back(strength(c, m));
  all.push_back(warmth(c));
  return all;
}

}  // namespace lodegear
