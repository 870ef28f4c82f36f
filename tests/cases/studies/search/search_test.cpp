// tests/cases/studies/search/search_test.cpp — searches on functions whose best points are known.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <mutex>
#include <set>

#include "cases/studies/search/local_search.h"
#include "cases/studies/search/one_goal_search.h"
#include "cases/studies/search/trade_off_search.h"

using namespace lodegear;

namespace {

/// Evaluates one point after the other.
template <class F>
Evaluate each(F value) {
  return [value](const std::vector<SearchPoint>& points) {
    std::vector<PointValue> values;
    for (const SearchPoint& x : points) values.push_back(value(x));
    return values;
  };
}

SearchSpace continuous(std::size_t n) { return SearchSpace(n); }

PointValue sphere(const SearchPoint& x) {
  double sum = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i)
    sum +=
        (x[i] - 0.3 - 0.1 * static_cast<double>(i)) * (x[i] - 0.3 - 0.1 * static_cast<double>(i));
  return {{sum}, {}, 0.0};
}

/// Rosenbrock, Comput. J. 3 (1960) 175, in four dimensions, each from −2 to 2; least 0 at 1.
PointValue rosenbrock(const SearchPoint& u) {
  std::vector<double> x;
  for (const double part : u) x.push_back(4 * part - 2);
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < x.size(); ++i)
    sum += 100 * std::pow(x[i + 1] - x[i] * x[i], 2) + std::pow(1 - x[i], 2);
  return {{sum}, {}, 0.0};
}

/// Problem 24 of Hock and Schittkowski, Test Examples for Nonlinear Programming Codes (1981), from
/// memory and worked out by hand: least −1 at x = (3, √3).
PointValue hock_schittkowski_24(const SearchPoint& u) {
  const double x = 6 * u[0], y = 6 * u[1], r = std::sqrt(3.0);
  const double f = ((x - 3) * (x - 3) - 9) * y * y * y / (27 * r);
  return {{f}, {-(x / r - y), -(x + r * y), -(6 - x - r * y)}, 0.0};
}

double best_value(const Trail& trail) { return merit(trail[best_of(trail)].value); }

bool same(const Trail& a, const Trail& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i)
    if (a[i].point != b[i].point || a[i].value.goals != b[i].value.goals) return false;
  return true;
}

/// ZDT1: Zitzler, Deb, Thiele, Evol. Comput. 8 (2000) 173; the front is f2 = 1 − √f1.
PointValue zdt1(const SearchPoint& x) {
  double g = 0.0;
  for (std::size_t i = 1; i < x.size(); ++i) g += x[i];
  g = 1 + 9 * g / static_cast<double>(x.size() - 1);
  return {{x[0], g * (1 - std::sqrt(x[0] / g))}, {}, 0.0};
}

}  // namespace

TEST_CASE("search: the least of a bowl is found as near as the steps are fine", "[cases][search]") {
  const Trail trail = one_goal_search(continuous(3), {200, 1, 1, {}}, each(sphere));
  CHECK(trail.size() <= 200);
  CHECK(best_value(trail) < 1e-8);  // steps of 1e-5 of an axis leave 1e-10
}

TEST_CASE("search: it follows the bent valley of Rosenbrock", "[cases][search]") {
  const Trail trail = one_goal_search(continuous(4), {2000, 1, 1, {}}, each(rosenbrock));
  WARN("Rosenbrock 4D, 2000 points: " << best_value(trail));
  CHECK(best_value(trail) < 0.5);
}

TEST_CASE("search: under limits the best lies where two of them meet", "[cases][search]") {
  const Trail trail = one_goal_search(continuous(2), {300, 1, 1, {}}, each(hock_schittkowski_24));
  const AskedPoint& best = trail[best_of(trail)];
  WARN("HS24: " << best_value(trail));
  CHECK(best_value(trail) == Approx(-1.0).margin(1e-3));
  CHECK(6 * best.point[0] == Approx(3.0).margin(0.01));
  CHECK(6 * best.point[1] == Approx(std::sqrt(3.0)).margin(0.01));
  CHECK(distance_to_allowed(best.value) == 0.0);
}

TEST_CASE("search: NSGA-II comes near the front of ZDT1", "[cases][search]") {
  const Trail trail = trade_off_search(continuous(6), 2, {4000, 1, 1, {}}, each(zdt1));
  const auto front = front_of(trail);
  double off = 0.0;
  for (const std::size_t i : front) {
    const auto& f = trail[i].value.goals;
    off += (f[1] - (1 - std::sqrt(f[0]))) / static_cast<double>(front.size());
  }
  WARN("ZDT1: " << front.size() << " on the front, off by " << off);
  CHECK(off < 0.01);
}

TEST_CASE("search: the number of threads changes no point", "[cases][search]") {
  const Trail one = one_goal_search(continuous(4), {300, 5, 1, {}}, each(rosenbrock));
  CHECK(same(one, one_goal_search(continuous(4), {300, 5, 3, {}}, each(rosenbrock))));
  CHECK_FALSE(same(one, one_goal_search(continuous(4), {300, 6, 1, {}}, each(rosenbrock))));
  const Trail front = trade_off_search(continuous(4), 2, {200, 5, 1, {}}, each(zdt1));
  CHECK(same(front, trade_off_search(continuous(4), 2, {200, 5, 1, {}}, each(zdt1))));
  CHECK_FALSE(same(front, trade_off_search(continuous(4), 2, {200, 6, 1, {}}, each(zdt1))));
}
