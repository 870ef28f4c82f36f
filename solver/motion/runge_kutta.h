// solver/motion/runge_kutta.h — ordinary differential equations with a step that fits itself.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace lodegear {

/// Steps y' = f(t, y) from `t` to `end`, with an estimated error a step of at most `tolerance` in
/// units of `scale`, and calls see(t, y) after each step. `limit` bounds the number of steps; false
/// if it is reached.
/// Source: Dormand, Prince, J. Comput. Appl. Math. 6 (1980) 19 (the pair of orders 5 and 4).
template <std::size_t N, typename Slope, typename See>
bool integrate(Slope f, double t, double end, std::array<double, N>& y,
               const std::array<double, N>& scale, double tolerance, double first_step, See see,
               long limit = 2'000'000) {
  using State = std::array<double, N>;
  constexpr double c[7] = {0.0, 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1.0, 1.0};
  constexpr double a[7][6] = {
      {},
      {1.0 / 5},
      {3.0 / 40, 9.0 / 40},
      {44.0 / 45, -56.0 / 15, 32.0 / 9},
      {19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729},
      {9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656},
      {35.0 / 384, 0.0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84}};
  // Difference of the two orders.
  constexpr double e[7] = {71.0 / 57600,      0.0,        -71.0 / 16695, 71.0 / 1920,
                           -17253.0 / 339200, 22.0 / 525, -1.0 / 40};
  double h = std::min(first_step, end - t);
  std::array<State, 7> k;
  k[0] = f(t, y);
  for (long step = 0; step < limit; ++step) {
    if (t >= end) return true;
    h = std::min(h, end - t);
    State next = y;
    for (std::size_t s = 1; s < 7; ++s) {
      next = y;
      for (std::size_t j = 0; j < s; ++j)
        for (std::size_t i = 0; i < N; ++i) next[i] += h * a[s][j] * k[j][i];
      k[s] = f(t + c[s] * h, next);
    }
    double error = 0.0;
    for (std::size_t i = 0; i < N; ++i) {
      double difference = 0.0;
      for (std::size_t s = 0; s < 7; ++s) difference += h * e[s] * k[s][i];
      error = std::max(error, std::abs(difference) / scale[i]);
    }
    error /= tolerance;
    if (error <= 1.0) {
      t += h;
      y = next;
      k[0] = k[6];  // the last slope is the next first one
      see(t, y);
    }
    h *= std::clamp(0.9 * std::pow(std::max(error, 1e-12), -0.2), 0.2, 5.0);
  }
  return t >= end;
}

}  // namespace lodegear
