// solver/motion/kinematics.h — how the three members turn together.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>

#include "solver/field/field_problem.h"

namespace lodegear {

/// p_s/n/p_r.
struct PoleCounts {
  int sun = 0;
  int pole_pieces = 0;
  int ring = 0;
};

/// δ = p_s θ_s + p_r θ_r − n θ_m, electrical rad: constant while the gear runs in step. At δ = 0
/// the gear rests in equilibrium; the mean torques go as sin δ. (theory 6.1)
double load_angle(const PoleCounts& counts, const Position& position);

/// The load angle gained per mechanical radian of one member: p_s, −n or p_r.
int electrical_factor(const PoleCounts& counts, Member member);

/// One member held, one driven, one output.
struct SpeedRatio {
  Member held = Member::modulator, input = Member::sun, output = Member::ring;
  double input_over_output = 0.0;  ///< ω_input/ω_output; negative = the output turns the other way
};

/// Ratios for the modulator, the ring and the sun held; the input is the faster member. From δ̇ = 0:
/// ω_s/ω_r = −p_r/p_s, ω_s/ω_m = n/p_s, ω_r/ω_m = n/p_r.
/// Source: Atallah, Howe, IEEE Trans. Magn. 37(4) (2001) 2844.
std::array<SpeedRatio, 3> speed_ratios(const PoleCounts& counts);

/// Ripple periods per turn of the sun relative to the modulator in synchronous motion:
/// LCM(2p_s, n) where the north and south poles of both rotors are mirror images, else LCM(p_s, n).
int ripples_per_turn(const PoleCounts& counts, bool mirror_poles);

/// Positions in step at load angle δ: the sun stands `phase` rad (mechanical) ahead of where it
/// started relative to the modulator, the ring follows, and the whole is turned so that `held`
/// keeps its place.
Position synchronous_position(const PoleCounts& counts, Member held, double delta, double phase);

}  // namespace lodegear
