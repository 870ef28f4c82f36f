// solver/field/line_search.h — how far to go along Newton's direction, the same on both paths.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cmath>

#include "solver/field/field_solution.h"

namespace lodegear {

/// After a whole step. φ(t) = energy along the direction is convex: goes back to a t where its
/// slope is at most half as steep as at the start, by bracketing and bisection; t = 1 is kept while
/// φ still falls there. `start`: slope at t = 0, negative. `slope()`: at the present t. `move(by)`:
/// changes t. Returns t.
template <typename Slope, typename Move>
double search_back(double start, Slope slope, Move move) {
  double low = 0.0, high = 0.0, at = 1.0;
  for (int trial = 0; trial < 40; ++trial) {
    const double here = slope();
    if (std::abs(here) <= 0.5 * -start || (here < 0 && at == 1.0)) break;
    (here < 0 ? low : high) = at;
    const double next = 0.5 * (low + high);
    move(next - at);
    at = next;
  }
  return at;
}

/// A step cut to less than this asks for tangents from where the whole step would have led: steel
/// that saturates on the way is stiff there, and the next step is not led astray by it again.
inline constexpr double short_step = 0.25;

/// Says in the summary where the solve ended.
void tell_not_converged(double residual, double tolerance, SolveSummary& summary);

}  // namespace lodegear
