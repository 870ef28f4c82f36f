// mesh/magnet_patterns.cpp — counting magnets and directing them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/magnet_patterns.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lodegear {

using std::numbers::pi;

namespace {

template <class... F>
struct Overloaded : F... {
  using F::operator()...;
};
template <class... F>
Overloaded(F...) -> Overloaded<F...>;  // older compilers do not deduce it

int blocks_per_pole(const MagnetRotor& rotor) {
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  return blocks ? std::max(1, blocks->blocks_per_pole) : 1;
}
bool is_spoke(const MagnetRotor& rotor) {
  return std::holds_alternative<SpokeMagnets>(rotor.shape);
}
bool is_alternating(const MagnetRotor& rotor) {
  return std::holds_alternative<AlternatingRadial>(rotor.pattern) ||
         std::holds_alternative<AlternatingParallel>(rotor.pattern);
}

/// Pole and place in the pole of a magnet, when each pole is `per_pole` magnets side by side and
/// magnet 0 is the one on, or next after, the centre of pole 0.
struct PlaceInPole {
  int pole = 0;
  double from_centre = 0.0;  ///< in magnets, counter-clockwise from the pole's centre
};
PlaceInPole place_in_pole(int index, int per_pole) {
  const int shifted = index + per_pole / 2;
  return {shifted / per_pole, shifted % per_pole - 0.5 * (per_pole - 1)};
}

double alternating_centre_angle(const MagnetRotor& rotor, int index) {
  const double pole_pitch = pi / rotor.pole_pairs;
  if (is_spoke(rotor)) return (index + 0.5) * pole_pitch;
  const int per_pole = blocks_per_pole(rotor);
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  const double pitch =
      blocks && blocks->block_pitch > 0.0 ? blocks->block_pitch : pole_pitch / per_pole;
  const PlaceInPole place = place_in_pole(index, per_pole);
  return place.pole * pole_pitch + place.from_centre * pitch;
}

double sign_of_pole(int pole) { return pole % 2 == 0 ? 1.0 : -1.0; }

/// 1 − p where the field is the stronger outside, 1 + p where inside.
double halbach_turns(FluxSide stronger, int pole_pairs) {
  return stronger == FluxSide::outward ? 1.0 - pole_pairs : 1.0 + pole_pairs;
}

Magnetisation uniform(double angle) { return {Magnetisation::Law::uniform, angle, 0.0, 1.0}; }

/// In turn outward and inward along the magnet's own centre line; spoke magnets in turn clockwise
/// and counter-clockwise, so that wedge 0 on +x gathers the flux of both its neighbours.
Magnetisation alternating(const MagnetRotor& rotor, int index) {
  const double centre = magnet_centre_angle(rotor, index);
  if (is_spoke(rotor)) return uniform(centre - sign_of_pole(index) * pi / 2);
  const int pole = place_in_pole(index, blocks_per_pole(rotor)).pole;
  return uniform(centre + (pole % 2 == 0 ? 0.0 : pi));
}

/// True radial directions exist in arcs only; a block is uniform along its own axis.
Magnetisation alternating_radial(const MagnetRotor& rotor, int index) {
  if (!std::holds_alternative<ArcMagnets>(rotor.shape)) return alternating(rotor, index);
  return {Magnetisation::Law::radial, 0.0, 0.0, sign_of_pole(index)};
}

Magnetisation pattern_magnetisation(const MagnetRotor& rotor, int index) {
  const double centre = magnet_centre_angle(rotor, index);
  return std::visit(
      Overloaded{[&](const AlternatingRadial&) { return alternating_radial(rotor, index); },
                 [&](const AlternatingParallel&) { return alternating(rotor, index); },
                 [&](const SteppedHalbach& h) {
                   return uniform(halbach_turns(h.stronger, rotor.pole_pairs) * centre);
                 },
                 [&](const ContinuousHalbach& h) {
                   return Magnetisation{Magnetisation::Law::turning, 0.0,
                                        halbach_turns(h.stronger, rotor.pole_pairs), 1.0};
                 },
                 [&](const DirectionList& list) {
                   const auto n = static_cast<int>(list.directions.size());
                   return uniform(centre + list.directions[static_cast<std::size_t>(index % n)]);
                 }},
      rotor.pattern);
}

/// Angle brought to (−period/2, period/2]; values at the border by round-off go to +period/2.
double wrapped(double angle, double period) {
  const double rest = angle - period * std::round(angle / period);
  return rest < -period / 2 + 1e-9 ? rest + period : rest;
}

}  // namespace

Eigen::Vector2d Magnetisation::at(const Eigen::Vector2d& x) const {
  const double polar_angle = law == Law::uniform ? 0.0 : std::atan2(x.y(), x.x());
  double direction = angle;
  if (law == Law::radial) direction += polar_angle;
  if (law == Law::turning) direction += turns * polar_angle;
  return strength * Eigen::Vector2d(std::cos(direction), std::sin(direction));
}

int n_magnets(const MagnetRotor& rotor) {
  return std::visit(
      Overloaded{
          [&](const SteppedHalbach& h) { return h.segments_per_pole_pair * rotor.pole_pairs; },
          [&](const DirectionList& list) { return list.magnets_per_pole_pair * rotor.pole_pairs; },
          [&](const auto&) { return 2 * rotor.pole_pairs * blocks_per_pole(rotor); }},
      rotor.pattern);
}

double magnet_centre_angle(const MagnetRotor& rotor, int index) {
  if (is_alternating(rotor)) return alternating_centre_angle(rotor, index);
  const auto* stepped = std::get_if<SteppedHalbach>(&rotor.pattern);
  const double shift = stepped && stepped->pole_centre == PoleCentre::on_joint ? 0.5 : 0.0;
  return 2 * pi * (index + shift) / n_magnets(rotor);
}

Magnetisation magnetisation(const MagnetRotor& rotor, int index) {
  Magnetisation m = pattern_magnetisation(rotor, index);
  for (const OddMagnet& odd : rotor.odd_magnets) {
    if (odd.index != index) continue;
    m.strength *= odd.missing ? 0.0 : odd.strength;
    m.angle += odd.turned;
  }
  return m;
}

double body_angle(const MagnetRotor& rotor, int index) {
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  if (!blocks || !blocks->turned_to_pattern) return 0.0;
  const Magnetisation m = pattern_magnetisation(rotor, index);
  const double axis = blocks->axis == BlockAxis::width ? pi / 2 : 0.0;
  // Half a turn leaves a rectangle as it was.
  return wrapped(m.angle - magnet_centre_angle(rotor, index) - axis, pi);
}

bool is_special_order(const MagnetRotor& rotor, int index) {
  if (is_spoke(rotor)) return false;
  const Magnetisation m = pattern_magnetisation(rotor, index);
  if (m.law == Magnetisation::Law::turning) return true;
  if (m.law == Magnetisation::Law::radial) return false;
  double stock = body_angle(rotor, index);
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  if (blocks && blocks->axis == BlockAxis::width) stock += pi / 2;
  const double off = wrapped(m.angle - magnet_centre_angle(rotor, index) - stock, pi);
  return std::abs(off) > 1e-6;
}

}  // namespace lodegear
