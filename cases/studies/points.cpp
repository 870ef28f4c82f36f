// cases/studies/points.cpp — random, stratified and low-discrepancy points.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/points.h"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <numbers>
#include <numeric>

#include "cases/studies/draws.h"

namespace lodegear {

namespace {

// What draws are for; see Draws.
constexpr std::uint32_t for_points = 1, for_strata = 2, for_shift = 3;

/// Fisher and Yates, as in Knuth, The Art of Computer Programming 2, algorithm P; the standard
/// library's shuffle is not the same everywhere.
std::vector<std::size_t> permutation(std::size_t n, Draws& draws) {
  std::vector<std::size_t> order(n);
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = n; i > 1; --i) std::swap(order[i - 1], order[draws.below(i)]);
  return order;
}

/// A shift may bring a coordinate to 0 or, by rounding, to 1.
double inside(double x) { return std::clamp(x, 0x1p-40, 1.0 - 0x1p-40); }

}  // namespace

UnitPoints random_points(int n, int dimensions, std::uint32_t seed) {
  UnitPoints points(static_cast<std::size_t>(n));
  for (std::size_t i = 0; i < points.size(); ++i) {
    Draws draws(seed, static_cast<std::uint32_t>(i), for_points);
    for (int d = 0; d < dimensions; ++d) points[i].push_back(draws.part());
  }
  return points;
}

UnitPoints latin_hypercube(int n, int dimensions, std::uint32_t seed) {
  const auto count = static_cast<std::size_t>(n);
  UnitPoints points(count, std::vector<double>(static_cast<std::size_t>(dimensions)));
  for (std::size_t d = 0; d < static_cast<std::size_t>(dimensions); ++d) {
    Draws draws(seed, static_cast<std::uint32_t>(d), for_strata);
    const std::vector<std::size_t> strata = permutation(count, draws);
    for (std::size_t i = 0; i < count; ++i)
      points[i][d] = (static_cast<double>(strata[i]) + draws.part()) / n;
  }
  return points;
}

UnitPoints sobol_points(int n, int dimensions, std::uint32_t seed) {
  UnitPoints points(static_cast<std::size_t>(n));
  if (dimensions == 0) return points;
  boost::random::sobol sequence(static_cast<std::size_t>(dimensions));
  Draws draws(seed, 0, for_shift);
  std::vector<double> shift;
  for (int d = 0; d < dimensions; ++d) shift.push_back(seed == 0 ? 0.0 : draws.part());
  for (std::vector<double>& point : points)
    for (const double s : shift) {
      const double x = static_cast<double>(sequence()) * 0x1p-64 + s;
      point.push_back(inside(x >= 1.0 ? x - 1.0 : x));
    }
  return points;
}

double normal_quantile(double u) { return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * u); }

}  // namespace lodegear
