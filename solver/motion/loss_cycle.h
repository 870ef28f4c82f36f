// solver/motion/loss_cycle.h — the few positions from which every member's losses follow.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "solver/motion/kinematics.h"
#include "solver/motion/sweep.h"

namespace lodegear {

/// How the field in one member's own frame repeats while the gear runs in step. One *step* of the
/// cycle (LossCycle::step) later, sector j shows what sector j + shift shows now, times `sign`; so
/// after `steps` of them the first `sectors` sectors, which stand for all, see the same again, or,
/// with `half_wave`, the same with the opposite sign (the period is then twice as long).
/// (theory 8.1)
struct MemberCycle {
  int sectors = 1;  ///< sector j loses what sector j mod `sectors` loses
  int shift = 0;    ///< sectors
  int sign = 1;     ///< ±1
  int steps = 1;
  bool half_wave = false;
};

/// Positions in step over one step of the cycle, and what they tell of each member.
/// The *phase* φ is the angle of the sun relative to the modulator, mechanical rad.
struct LossCycle {
  Positions positions;               ///< even, over one step (its end left out)
  double step = 0.0;                 ///< rad of phase, > 0
  Position rate;                     ///< dθ/dφ of each member
  std::vector<MemberCycle> members;  ///< as in FieldProblem::members

  /// Samples in the time series of member i: over its period, or half of it with half_wave.
  int samples(std::size_t i) const;
  /// Period of the field in the frame of member i, rad of phase.
  double period(std::size_t i) const;
};

struct LossSampling {
  /// Least number of samples in the shortest of the members' periods.
  int per_period = 64;
  /// Least number of positions to be solved.
  int positions = 1;
  /// false: the whole cycle is gone through and every sector stands for itself (for checks).
  bool use_symmetry = true;
};

/// Plans the positions of a gear in step at load angle `delta`, `held` at rest. Symmetry is read
/// from the magnets and meshes themselves: odd magnets make the cycle longer, never wrong. The
/// positions are running_positions over one step; in a gear without odd magnets a step is a ripple
/// period. Throws std::invalid_argument unless the problem has sun, modulator and ring and no
/// applied field.
LossCycle loss_cycle(const FieldProblem& problem, const PoleCounts& counts, Member held,
                     double delta, const LossSampling& sampling = {});

/// dφ/dt [rad/s] when `input` turns at `speed` [rad/s]. The held member cannot be the input.
double phase_speed(const LossCycle& cycle, Member input, double speed);

}  // namespace lodegear
