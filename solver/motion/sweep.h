// solver/motion/sweep.h — the field at many positions, in parallel, same bits on any machine load.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <vector>

#include "solver/field/field_solver.h"

namespace lodegear {

/// Of which positions A is filled in on all members; else it is dropped, as it is by far the
/// largest.
enum class KeepPotentials { none, first, every };

struct SweepOptions {
  int threads = 1;
  KeepPotentials keep = KeepPotentials::none;  ///< first = of the first curve
  /// Called after each position with how many are done; from any thread, one call at a time.
  std::function<void(int done, int total)> progress;
};

/// Positions are worked off in blocks of this many, each from a cold start: the result depends on
/// the curves alone, never on the number of threads.
inline constexpr int block_length = 12;

using Positions = std::vector<Position>;

/// Several curves at once, each a list of positions: one solution a position, in order. A position
/// that did not converge is marked so in its summary and the sweep goes on.
std::vector<std::vector<FieldSolution>> sweep(const FieldSolver& solver,
                                              const std::vector<Positions>& curves,
                                              const SweepOptions& options = {});
/// One curve.
std::vector<FieldSolution> sweep_curve(const FieldSolver& solver, const Positions& positions,
                                       const SweepOptions& options = {});

}  // namespace lodegear
