// tests/cases/studies/points_test.cpp — where the designs of a study lie in the unit cube.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/points.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

using namespace lodegear;

namespace {

bool inside(const UnitPoints& points) {
  for (const auto& point : points)
    for (const double x : point)
      if (!(x > 0.0 && x < 1.0)) return false;
  return true;
}

}  // namespace

TEST_CASE("points: the plain Sobol sequence begins as it is published", "[cases][studies]") {
  // Bratley and Fox, ACM Trans. Math. Softw. 14 (1988) 88; the first points in two dimensions as
  // the documentation of Boost.Random prints them.
  const UnitPoints expected = {
      {0.5, 0.5}, {0.75, 0.25}, {0.25, 0.75}, {0.375, 0.375}, {0.875, 0.875}};
  CHECK(sobol_points(5, 2, 0) == expected);
}

TEST_CASE("points: 2^k − 1 Sobol points fill every interval of 2^−k but one, once, shifted or not",
          "[cases][studies]") {
  // The property the sequence is made for, in each dimension by itself. The point at 0 is left out,
  // so one interval is empty; a shift moves all by the same.
  for (const std::uint32_t seed : {0u, 7u}) {
    const UnitPoints points = sobol_points(63, 5, seed);
    CHECK(inside(points));
    for (std::size_t d = 0; d < 5; ++d) {
      const double shift = seed == 0 ? 0.0 : points[0][d] - 0.5;  // the first plain one is 0.5
      std::set<int> intervals;
      for (const auto& point : points) {
        const double x = point[d] - shift;
        intervals.insert(static_cast<int>(std::floor(64 * (x - std::floor(x)) + 1e-6)));
      }
      CHECK(intervals.size() == 63);
    }
  }
}

TEST_CASE("points: a Latin hypercube has one point in each interval of every direction",
          "[cases][studies]") {
  const UnitPoints points = latin_hypercube(40, 3, 5);
  CHECK(inside(points));
  for (std::size_t d = 0; d < 3; ++d) {
    std::set<int> intervals;
    for (const auto& point : points) intervals.insert(static_cast<int>(40 * point[d]));
    CHECK(intervals.size() == 40);
  }
  std::set<int> pairs;  // and is no diagonal: the directions are paired at random
  for (const auto& point : points)
    pairs.insert(static_cast<int>(40 * point[0]) - static_cast<int>(40 * point[1]));
  CHECK(pairs.size() > 10);
}

TEST_CASE(
    "points: a seed gives the same points again, another seed others; more points keep the "
    "first",
    "[cases][studies]") {
  CHECK(random_points(10, 3, 1) == random_points(10, 3, 1));
  CHECK(random_points(10, 3, 1) != random_points(10, 3, 2));
  CHECK(latin_hypercube(10, 3, 1) == latin_hypercube(10, 3, 1));
  CHECK(latin_hypercube(10, 3, 1) != latin_hypercube(10, 3, 2));
  CHECK(sobol_points(10, 3, 1) != sobol_points(10, 3, 2));
  UnitPoints more = random_points(20, 3, 1), more_sobol = sobol_points(20, 3, 1);
  more.resize(10);
  more_sobol.resize(10);
  CHECK(more == random_points(10, 3, 1));
  CHECK(more_sobol == sobol_points(10, 3, 1));
}

TEST_CASE("points: random draws are the standard generator's, spread evenly", "[cases][studies]") {
  double sum = 0.0, squares = 0.0;
  const int n = 4000;
  for (const auto& point : random_points(n, 1, 3)) {
    sum += point[0];
    squares += point[0] * point[0];
  }
  // Mean 1/2 and mean square 1/3; their standard errors at n = 4000 are 0.0046 and 0.0047: four.
  CHECK(std::abs(sum / n - 0.5) < 0.018);
  CHECK(std::abs(squares / n - 1.0 / 3.0) < 0.019);
}

TEST_CASE("points: quantiles of the normal distribution are those of the tables",
          "[cases][studies]") {
  // Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.5 (here from
  // memory): Q(x) = 0.05, 0.025, 0.001.
  CHECK(normal_quantile(0.5) == Approx(0.0).margin(1e-15));
  CHECK(normal_quantile(0.95) == Approx(1.6448536270).epsilon(1e-9));
  CHECK(normal_quantile(0.975) == Approx(1.9599639845).epsilon(1e-9));
  CHECK(normal_quantile(0.001) == Approx(-3.0902323062).epsilon(1e-9));
  // And the inverse of Φ(x) = erfc(−x/√2)/2 of the C library, far into both tails.
  for (const double u : {1e-9, 1e-4, 0.3, 0.7, 0.9999})
    CHECK(0.5 * std::erfc(-normal_quantile(u) / std::sqrt(2.0)) == Approx(u).epsilon(1e-12));
}
