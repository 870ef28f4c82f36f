// tests/cases/studies/statistics_test.cpp — spreads and sensitivities against worked examples.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/statistics.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "cases/studies/points.h"

using namespace lodegear;

TEST_CASE("statistics: quantiles lie between neighbours as in definition 7", "[cases][studies]") {
  // By hand from the definition: place p (n − 1) of the sorted values, linear between them.
  CHECK(quantile({1, 2, 3, 4, 5}, 0.5) == 3.0);
  CHECK(quantile({1, 2, 3, 4, 5}, 0.05) == Approx(1.2));
  CHECK(quantile({10, 20}, 0.25) == Approx(12.5));
  CHECK(quantile({7}, 0.95) == 7.0);
  CHECK(std::isnan(quantile({}, 0.5)));
}

TEST_CASE("statistics: mean and standard deviation of a known sample", "[cases][studies]") {
  // 2, 4, 4, 4, 5, 5, 7, 9: mean 5, sum of squares about it 32, so √(32/7) of the sample.
  const Spreading s = *spreading({9, 2, 5, 4, 7, 4, 5, 4});
  CHECK(s.count == 8);
  CHECK(s.mean == 5.0);
  CHECK(*s.deviation == Approx(std::sqrt(32.0 / 7.0)));
  CHECK(s.smallest == 2.0);
  CHECK(s.largest == 9.0);
  CHECK(s.p50 == 4.5);
  CHECK_FALSE(spreading({3})->deviation);
  CHECK(*spreading({0.1, 0.1, 0.1})->deviation == 0.0);
  CHECK_FALSE(spreading({}));
}

TEST_CASE("statistics: of a linear law the regression finds the shares of each input",
          "[cases][studies]") {
  // y = 3 a − 4 b of independent inputs of unit spread: standard deviation 5, coefficients 0.6 and
  // −0.8, whose squares sum to 1.
  std::vector<double> a, b, still, y;
  for (const auto& point : latin_hypercube(500, 2, 9)) {
    a.push_back(normal_quantile(point[0]));
    b.push_back(normal_quantile(point[1]));
    still.push_back(2.5);
    y.push_back(3 * a.back() - 4 * b.back() + 100);
  }
  const Regression r = *standardised_regression({a, still, b}, y);
  // A sample of 500 has chance correlations of some 1/√500 = 0.045, which move the standard
  // deviation of y by half of that times 2 · 0.6 · 0.8.
  CHECK(r.coefficients[0] == Approx(0.6).margin(0.03));
  CHECK(r.coefficients[1] == 0.0);
  CHECK(r.coefficients[2] == Approx(-0.8).margin(0.03));
  CHECK(r.r_squared == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("statistics: keys that always change together share their coefficient",
          "[cases][studies]") {
  const std::vector<double> x{1, 2, 3, 4, 5, 6}, twice{2, 4, 6, 8, 10, 12}, y{3, 5, 7, 9, 11, 13};
  const Regression r = *standardised_regression({x, twice}, y);
  CHECK(r.coefficients[0] == Approx(0.5));
  CHECK(r.coefficients[1] == Approx(0.5));
}

TEST_CASE("statistics: nothing is said where there is too little to say", "[cases][studies]") {
  CHECK_FALSE(standardised_regression({{1, 2, 3}}, {5, 5, 5}));
  CHECK_FALSE(standardised_regression({{1, 2, 3}, {2, 1, 3}}, {1, 2, 4}));
  CHECK_FALSE(standardised_regression({{1, 1, 1}}, {1, 2, 4}));
  CHECK_FALSE(standardised_regression({}, {}));
  CHECK_FALSE(rank_correlation({1, 2}, {3, 4}));
  CHECK_FALSE(rank_correlation({1, 1, 1}, {3, 4, 5}));
  CHECK_FALSE(group_share({"a", "b", "a"}, {1, 1, 1}));
}

TEST_CASE("statistics: the rank correlation sees every rising law as 1 and shares ties",
          "[cases][studies]") {
  CHECK(*rank_correlation({1, 2, 3, 4}, {1, 10, 100, 1000}) == Approx(1.0));
  CHECK(*rank_correlation({1, 2, 3, 4}, {8, 4, 2, 1}) == Approx(-1.0));
  // By hand: ranks 1, 2.5, 2.5, 4 against 1, 2, 3, 4: 4.5/√(4.5 · 5).
  CHECK(*rank_correlation({1, 2, 2, 3}, {1, 2, 3, 4}) == Approx(4.5 / std::sqrt(22.5)));
}

TEST_CASE("statistics: the correlation ratio of a worked example", "[cases][studies]") {
  // By hand: groups {1, 3} and {5, 7}: means 2 and 6 about 4, so 16 of the 20 in squares.
  CHECK(*group_share({"a", "b", "a", "b"}, {1, 5, 3, 7}) == Approx(0.8));
}
