// cases/motion_of_case.cpp — a case as a spring between two inertias.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/motion_of_case.h"

#include <cmath>

#include "cases/slip_figures.h"
#include "cases/text_table.h"
#include "materials/constants.h"
#include "materials/input_error.h"

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

/// Overload in place of the load, as a part of the slip torque, where none is given.
constexpr double usual_overload = 1.2;
/// Pull-in is looked for up to so many times the case's speed.
constexpr double highest_pull_in = 4.0;

Overload asked_overload(const Validation& v, const SlipFriction& friction) {
  const AskedOverload& asked = v.gear.input.service.overload;
  Overload o;
  o.input = v.drive.input;
  o.output = v.drive.output;
  o.input_speed = v.gear.input.running->input_speed;
  if (!asked.keeps_speed) o.input_inertia = inertia_of(v, o.input);
  o.output_inertia = inertia_of(v, o.output);
  o.load = v.load;
  o.overload = asked.torque.value_or(usual_overload * v.slip_torque.expected);
  o.brakes = asked.brakes;
  o.drag = friction.output_drag;
  return o;
}

void check_duration(const GearSpring& spring, const Overload& o) {
  const double most = longest_overload(spring, o);
  if (o.duration <= most) return;
  throw InputError({{{},
                     "overload.seconds",
                     "is " + significant(o.duration, 3) +
                         "; more poles or swings pass in that time than are followed. It must be " +
                         significant(most, 3) + " or less."}});
}

}  // namespace

std::optional<GearSpring> bench_spring(const Validation& v) {
  const CaseResult& gear = v.gear;
  const SlipTask& slip = *gear.input.slip;
  if (static_cast<int>(gear.slip_curve.size()) != slip.positions_per_period ||
      !all_converged(gear.slip_curve))
    return std::nullopt;
  std::vector<double> curve = torques(gear.slip_curve, Member::modulator);
  const double bench = v.slip_torque.expected / plane_torque(v);
  for (double& t : curve) t *= bench;
  const PoleCounts& n = gear.counts;
  return GearSpring(n.sun, n.pole_pieces, n.ring, Member::modulator, PeriodicCurve(curve));
}

double inertia_of(const Validation& v, Member m) {
  const Build& build = v.gear.input.service.build;
  const auto& given = m == v.drive.input ? build.input_inertia : build.output_inertia;
  return given.value_or(own_inertia(v, m));
}

std::optional<MotionFigures> motion_figures(const Validation& v) {
  const auto found = bench_spring(v);
  if (!found) return std::nullopt;
  const GearSpring& spring = *found;
  MotionFigures figures;
  figures.input_inertia = inertia_of(v, v.drive.input);
  figures.output_inertia = inertia_of(v, v.drive.output);
  Inertias inertias;
  inertias.of(v.drive.input) = figures.input_inertia;
  inertias.of(v.drive.output) = figures.output_inertia;
  const double factor = std::abs(spring.factor(v.drive.output));
  figures.stiffness = spring.stiffness(v.drive.output);
  if (const auto delta = spring.wind_up(v.load / factor)) figures.wind_up = *delta / factor;
  figures.frequency = natural_frequency(spring, inertias);
  figures.sudden_load = largest_sudden_load(spring) * factor;
  figures.lock_in_speed = lock_in_speed(spring, mobility(spring, inertias)) / factor;
  return figures;
}

std::optional<SlipInTime> slip_in_time(const Validation& v, const SlipFriction& friction) {
  const auto spring = bench_spring(v);
  if (!spring || v.gear.input.running->input_speed == 0.0) return std::nullopt;
  const AskedOverload& asked = v.gear.input.service.overload;
  SlipInTime slip;
  slip.asked = asked_overload(v, friction);
  Overload& o = slip.asked;
  // Of the output swinging while the input keeps its speed: δ″ = −κ (τ + c δ′), critical at
  // κ c = 2 ω, ω of the whole well; and c δ′² is what the slide takes.
  Inertias inertias;
  inertias.of(o.output) = o.output_inertia;
  const double kappa = mobility(*spring, inertias);
  const double critical = 2 * 2 * pi / swing_period(*spring, kappa) / kappa;
  const double slide = spring->factor(o.input) * o.input_speed;
  o.slide_damping =
      asked.damping ? *asked.damping * critical : friction.rotor_loss / (slide * slide);
  slip.damping = o.slide_damping / critical;
  o.duration = asked.duration.value_or(0.0);
  check_duration(*spring, o);
  const auto motion = overload_motion(*spring, o);
  if (!motion) return std::nullopt;
  slip.motion = *motion;
  slip.standing_frequency = standing_ratchet_frequency(*spring, o.input, o.input_speed);
  slip.highest = highest_pull_in * std::abs(o.input_speed);
  slip.pull_in_loaded = pull_in_speed(*spring, o, o.load, slip.highest);
  slip.pull_in_unloaded = pull_in_speed(*spring, o, 0.0, slip.highest);
  return slip;
}

}  // namespace lodegear
