// solver/motion/drive.h — which member is held, driven and loaded, and how fast all then turn.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>

#include "mesh/gear.h"
#include "solver/motion/kinematics.h"

namespace lodegear {

/// The side on which a member's own parts turn.
TurnsWith turning_with(Member member);

/// Turning speeds [rad/s], counter-clockwise positive. The housing stands.
struct MemberSpeeds {
  double sun = 0.0, modulator = 0.0, ring = 0.0;
  double of(Member member) const {
    return member == Member::sun ? sun : member == Member::modulator ? modulator : ring;
  }
  double of(TurnsWith part) const;
};

/// One member held, one turned from outside, one that carries the load.
struct Drive {
  Member held = Member::modulator, input = Member::sun, output = Member::ring;
};

/// All six: each member held, and each of the other two driven.
std::array<Drive, 6> all_drives();

/// Speeds in step: p_s ω_s + p_r ω_r = n ω_m with the held member at rest and the input at
/// `input_speed` [rad/s, signed]. Throws std::invalid_argument if two roles fall on one member.
MemberSpeeds speeds_in_step(const PoleCounts& counts, const Drive& drive, double input_speed);

/// |ω_sun − ω_modulator| [rad/s]. In step every other relative speed is a fixed multiple of it.
double relative_speed(const MemberSpeeds& speeds);

}  // namespace lodegear
