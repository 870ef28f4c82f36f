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

/// After twelve short steps in a row whole ones are tried, six at most: the energy rises for once,
/// but steel saturated too much often leads back in a few steps, where short ones crawl by
/// hundreds. If the imbalance is not smaller then, all goes back to where the trial began.
class Leaps {
 public:
  enum class Now { search, begin, leap, give_up };

  /// What to do with a step that led whole from one imbalance to another. begin: as leap, but the
  /// field before this step is to be kept; give_up: that field is to be taken again.
  Now after_whole_step(double before, double after) {
    if (left_ == 0 && (short_steps_ < crawling || tired_)) return Now::search;
    const bool begins = left_ == 0;
    if (begins) {
      start_ = before;
      left_ = length;
    }
    short_steps_ = 0;
    --left_;
    if (after < start_) {
      left_ = 0;
    } else if (left_ == 0 || !(after < farthest)) {
      left_ = 0;
      tired_ = true;
      return begins ? Now::search : Now::give_up;
    }
    return begins ? Now::begin : Now::leap;
  }
  /// What part of a step the search left.
  void searched(double taken) { short_steps_ = taken < short_step ? short_steps_ + 1 : 0; }

 private:
  static constexpr int crawling = 12, length = 6;
  static constexpr double farthest = 1e6;  // times the load: no number comes back from there
  int short_steps_ = 0, left_ = 0;
  double start_ = 0.0;
  bool tired_ = false;  // once in vain is enough
};

/// Says in the summary where the solve ended.
void tell_not_converged(double residual, double tolerance, SolveSummary& summary);

}  // namespace lodegear
