// solver/post/hysteresis.cpp — the loops a flux density runs through in one period.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/hysteresis.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace lodegear {

namespace {

/// From the highest value on and back to it, turning points only.
std::vector<double> turning_points(const std::vector<double>& series) {
  const auto top = std::max_element(series.begin(), series.end());
  std::vector<double> round(top, series.end());
  round.insert(round.end(), series.begin(), top);
  round.push_back(*top);
  std::vector<double> turns;
  for (double value : round) {
    if (!turns.empty() && value == turns.back()) continue;
    const std::size_t n = turns.size();
    if (n >= 2 && (turns[n - 1] - turns[n - 2]) * (value - turns[n - 1]) > 0.0)
      turns.back() = value;
    else
      turns.push_back(value);
  }
  return turns;
}

}  // namespace

std::vector<double> loop_ranges(const std::vector<double>& series) {
  std::vector<double> ranges, open;
  if (series.empty()) return ranges;
  for (double value : turning_points(series)) {
    open.push_back(value);
    // A swing that is no larger than those on both sides of it closes a loop with one of them.
    while (open.size() >= 4) {
      const std::size_t n = open.size();
      const double swing = std::abs(open[n - 2] - open[n - 3]);
      if (swing > std::abs(open[n - 1] - open[n - 2]) ||
          swing > std::abs(open[n - 3] - open[n - 4]))
        break;
      ranges.push_back(swing);
      open.erase(open.end() - 3, open.end() - 1);
    }
  }
  // What is left swings wider and then narrower: starting at the top, that is top, bottom, top.
  if (open.size() >= 3) ranges.push_back(open[0] - *std::min_element(open.begin(), open.end()));
  std::sort(ranges.begin(), ranges.end(), std::greater<>());
  return ranges;
}

double loop_factor(const std::vector<double>& ranges) {
  if (ranges.empty() || ranges.front() <= 0.0) return 0.0;
  double sum = 1.0;
  for (std::size_t i = 1; i < ranges.size(); ++i)
    sum += std::min(1.0, 0.65 * ranges[i] / (0.5 * ranges.front()));
  return sum;
}

double rotation_factor(double peak_b) { return 2.0 - std::clamp((peak_b - 1.2) / 0.4, 0.0, 1.0); }

}  // namespace lodegear
