// tools/bench/clock.cpp — the system's clocks and counters.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/bench/clock.h"

#include <algorithm>
#include <ctime>

namespace lodegear::bench {

namespace {

double seconds(clockid_t clock) {
  timespec now{};
  clock_gettime(clock, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

}  // namespace

Cost cost_of(const std::function<void()>& work) {
  const double cpu = seconds(CLOCK_PROCESS_CPUTIME_ID), wall = seconds(CLOCK_MONOTONIC);
  work();
  return {seconds(CLOCK_PROCESS_CPUTIME_ID) - cpu, seconds(CLOCK_MONOTONIC) - wall};
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t n = values.size();
  return 0.5 * (values[(n - 1) / 2] + values[n / 2]);
}

}  // namespace lodegear::bench
