// tools/bench/clock.h — CPU time, wall time, peak memory, and medians of them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <vector>

namespace lodegear::bench {

/// What a piece of work cost.
struct Cost {
  double cpu = 0.0;   ///< s, of all threads of the process together
  double wall = 0.0;  ///< s
};

/// Does the work once. The CPU clock is that of the process, so a thread that a library keeps to
/// itself is counted too.
Cost cost_of(const std::function<void()>& work);

/// Middle value; of an even number the mean of the middle two. Expects at least one.
double median(std::vector<double> values);

}  // namespace lodegear::bench
