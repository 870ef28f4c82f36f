// solver/motion/kinematics.cpp — how the three members turn together.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/kinematics.h"

#include <cmath>
#include <numeric>

namespace lodegear {

int electrical_factor(const PoleCounts& counts, Member member) {
  return member == Member::sun         ? counts.sun
         : member == Member::modulator ? -counts.pole_pieces
                                       : counts.ring;
}

double load_angle(const PoleCounts& counts, const Position& position) {
  return counts.sun * position.sun + counts.ring * position.ring -
         counts.pole_pieces * position.modulator;
}

namespace {

SpeedRatio speed_ratio(const PoleCounts& counts, Member held, Member a, Member b) {
  // f_a ω_a + f_b ω_b = 0
  const double ratio =
      -static_cast<double>(electrical_factor(counts, b)) / electrical_factor(counts, a);
  return std::abs(ratio) >= 1 ? SpeedRatio{held, a, b, ratio} : SpeedRatio{held, b, a, 1 / ratio};
}

}  // namespace

std::array<SpeedRatio, 3> speed_ratios(const PoleCounts& counts) {
  return {speed_ratio(counts, Member::modulator, Member::sun, Member::ring),
          speed_ratio(counts, Member::ring, Member::sun, Member::modulator),
          speed_ratio(counts, Member::sun, Member::ring, Member::modulator)};
}

int ripples_per_turn(const PoleCounts& counts, bool mirror_poles) {
  return std::lcm((mirror_poles ? 2 : 1) * counts.sun, counts.pole_pieces);
}

Position synchronous_position(const PoleCounts& counts, Member held, double delta, double phase) {
  Position p;
  p.sun = phase;
  p.ring = (delta - counts.sun * phase) / counts.ring;
  const double back = p.of(held);
  return {p.sun - back, p.modulator - back, p.ring - back};
}

}  // namespace lodegear
