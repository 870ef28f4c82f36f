// solver/motion/positions.h — the lists of positions a sweep visits.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "solver/motion/kinematics.h"

namespace lodegear {

/// `n` even steps of one electrical period: `turned` turns so that the load angle runs from 0 to
/// 2π (exclusive), the others keep `start`. Angles of `start` are included in every position.
std::vector<Position> slip_positions(const PoleCounts& counts, Member turned, int n,
                                     const Position& start = {});

/// `n` even steps (exclusive of the end) of `turn` rad of the sun relative to the modulator, in
/// step at load angle `delta`, `held` at rest.
std::vector<Position> running_positions(const PoleCounts& counts, Member held, double delta,
                                        double turn, int n);

}  // namespace lodegear
