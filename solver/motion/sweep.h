// solver/motion/sweep.h — the field at many positions, in parallel, same bits on any machine load.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <vector>

#include "solver/field/field_solver.h"

namespace lodegear {

struct SweepOptions {
  int threads = 1;
  bool keep_potentials = false;  ///< fill FieldSolution::a of every position
  /// Called after each position with how many are done; from any thread, one call at a time.
  std::function<void(int done, int total)> progress;
};

/// Positions are worked off in blocks of this many, each from a cold start: the result depends on
/// the list of positions alone, never on the number of threads.
inline constexpr int block_length = 32;

/// One solution a position, in order. A position that did not converge is marked so in its summary
/// and the sweep goes on.
std::vector<FieldSolution> sweep(const FieldSolver& solver, const std::vector<Position>& positions,
                                 const SweepOptions& options = {});

}  // namespace lodegear
