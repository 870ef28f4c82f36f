// materials/monotone_cubic.cpp — slopes for a monotone piecewise cubic.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/monotone_cubic.h"

#include <algorithm>
#include <cassert>

namespace lodegear {

constexpr double box = 2.9;  // 3 would let dy/dx touch its bound inside a piece

std::vector<double> limited_slopes(const std::vector<double>& x, const std::vector<double>& y,
                                   double steepest, double first, double last) {
  const std::size_t n = x.size();
  assert(n >= 2 && y.size() == n);
  std::vector<double> slope(n);
  slope.front() = first;
  slope.back() = last;
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const double left = x[i] - x[i - 1], right = x[i + 1] - x[i];
    const double s1 = (y[i] - y[i - 1]) / left, s2 = (y[i + 1] - y[i]) / right;
    const double w1 = left + 2.0 * right, w2 = 2.0 * left + right;
    const double mean = (w1 + w2) / (w1 / s1 + w2 / s2);
    const double least = steepest - box * (steepest - std::max(s1, s2));
    const double most = std::min(box * std::min(s1, s2), steepest);
    slope[i] = std::min(std::max(mean, least), most);
  }
  return slope;
}

}  // namespace lodegear
