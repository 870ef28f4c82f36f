// solver/post/end_factors.cpp — what finite length does to eddy currents computed without ends.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/end_factors.h"

#include <cmath>

#include "materials/constants.h"

namespace lodegear {

double plate_end_factor(double width, double length) {
  if (width > length) {
    const double ratio = length / width;
    return ratio * ratio * plate_end_factor(length, width);
  }
  // 21 terms: the next would add 2e-9.
  double sum = 0.0;
  for (int n = 41; n >= 1; n -= 2) sum += std::tanh(n * pi * length / (2 * width)) / std::pow(n, 5);
  return 1.0 - 192.0 / std::pow(pi, 5) * width / length * sum;
}

double cylinder_end_factor(double order, double radius, double length, double overhang) {
  const double x = order * length / (2 * radius);
  const double t = std::tanh(x), beyond = std::tanh(order * overhang / radius);
  if (x < 1e-4) return x * (beyond + x / 3 - x * beyond * beyond);  // free of cancellation
  return 1.0 - t / (x * (1.0 + t * beyond));
}

}  // namespace lodegear
