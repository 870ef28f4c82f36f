// cases/motion_of_case.cpp — a case as a spring between two inertias.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/motion_of_case.h"

#include <cmath>

#include "cases/slip_figures.h"
#include "solver/motion/gear_spring.h"

namespace lodegear {

namespace {

/// Magnets and steel of a member about the axis, kg·m², as a ring at their mean radius.
double own_inertia(const Validation& v, Member m) {
  const Gear& g = v.gear.input.gear;
  double inertia = 0.0;
  const auto at = [](double inner, double outer) { return 0.5 * (inner * inner + outer * outer); };
  for (const PartMass& part : v.masses) {
    if (part.member != m) continue;
    double square = m == Member::modulator
                        ? at(g.modulator->inner_radius, g.modulator->outer_radius)
                    : m == Member::sun ? at(g.sun->inner_radius, g.sun->outer_radius)
                                       : at(g.ring->inner_radius, g.ring->outer_radius);
    if (part.part == "hub" && g.sun->iron)
      square = at(g.sun->iron->inner_radius, g.sun->iron->outer_radius);
    if (part.part == "back iron" && g.ring->iron)
      square = at(g.ring->iron->inner_radius, g.ring->iron->outer_radius);
    inertia += part.count * part.one * square;
  }
  return inertia;
}

}  // namespace

std::optional<MotionFigures> motion_figures(const Validation& v) {
  const CaseResult& gear = v.gear;
  const SlipTask& slip = *gear.input.slip;
  if (static_cast<int>(gear.slip_curve.size()) != slip.positions_per_period ||
      !all_converged(gear.slip_curve))
    return std::nullopt;
  std::vector<double> curve = torques(gear.slip_curve, Member::modulator);
  const double bench = v.slip_torque.expected / plane_torque(v);
  for (double& t : curve) t *= bench;
  const PoleCounts& n = gear.counts;
  const GearSpring spring(n.sun, n.pole_pieces, n.ring, Member::modulator, PeriodicCurve(curve));
  MotionFigures figures;
  figures.input_inertia =
      gear.input.service.build.input_inertia.value_or(own_inertia(v, v.drive.input));
  figures.output_inertia =
      gear.input.service.build.output_inertia.value_or(own_inertia(v, v.drive.output));
  Inertias inertias;
  const auto set = [&inertias](Member m, double value) {
    (m == Member::sun         ? inertias.sun
     : m == Member::modulator ? inertias.modulator
                              : inertias.ring) = value;
  };
  set(v.drive.input, figures.input_inertia);
  set(v.drive.output, figures.output_inertia);
  const double factor = std::abs(spring.factor(v.drive.output));
  figures.stiffness = spring.stiffness(v.drive.output);
  if (const auto delta = spring.wind_up(v.load / factor)) figures.wind_up = *delta / factor;
  figures.frequency = natural_frequency(spring, inertias);
  figures.sudden_load = largest_sudden_load(spring) * factor;
  figures.lock_in_speed = lock_in_speed(spring, mobility(spring, inertias)) / factor;
  return figures;
}

}  // namespace lodegear
