// tests/cases/studies/search/search_test.cpp — searches on functions whose best points are known.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
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
  CHECK(best_value(trail) < 1e-8);  // steps of 1e-5 of an axis leave some 1e-10
}

TEST_CASE("search: it follows the bent valley of Rosenbrock", "[cases][search]") {
  const Trail trail = one_goal_search(continuous(4), {2000, 1, 1, {}}, each(rosenbrock));
  CHECK(best_value(trail) < 1e-6);  // 5e-11 here; COBYLA by itself leaves 0.1 after as many points
}

TEST_CASE("search: under limits the best lies where two of them meet", "[cases][search]") {
  const Trail trail = one_goal_search(continuous(2), {300, 1, 1, {}}, each(hock_schittkowski_24));
  const AskedPoint& best = trail[best_of(trail)];
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
  CHECK(front.size() > 50);
  CHECK(off < 0.01);  // 0.0045 here; what the front is wide and high is 1
}

TEST_CASE("search: the number of threads changes no point", "[cases][search]") {
  const Trail one = one_goal_search(continuous(4), {300, 5, 1, {}}, each(rosenbrock));
  CHECK(same(one, one_goal_search(continuous(4), {300, 5, 3, {}}, each(rosenbrock))));
  CHECK_FALSE(same(one, one_goal_search(continuous(4), {300, 6, 1, {}}, each(rosenbrock))));
  const Trail front = trade_off_search(continuous(4), 2, {200, 5, 1, {}}, each(zdt1));
  CHECK(same(front, trade_off_search(continuous(4), 2, {200, 5, 1, {}}, each(zdt1))));
  CHECK_FALSE(same(front, trade_off_search(continuous(4), 2, {200, 6, 1, {}}, each(zdt1))));
}

TEST_CASE(
    "search: choices are whole numbers in their range, and every combination is tried where "
    "points suffice",
    "[cases][search]") {
  const SearchSpace space{{0, true}, {5, true}, {3, false}};
  const auto value = [](const SearchPoint& x) {
    return PointValue{
        {std::pow(x[0] - 0.7, 2) + std::abs(x[1] - 3) + (x[2] == 1 ? 0.0 : 1.0)}, {}, 0.0};
  };
  const Trail trail = one_goal_search(space, {120, 1, 1, {}}, each(value));
  for (const AskedPoint& asked : trail) {
    CHECK(asked.point[1] == std::floor(asked.point[1]));
    CHECK(
        (asked.point[1] >= 0 && asked.point[1] <= 4 && asked.point[2] >= 0 && asked.point[2] <= 2));
  }
  const AskedPoint& best = trail[best_of(trail)];
  CHECK((best.point[1] == 3 && best.point[2] == 1));
  CHECK(best.point[0] == Approx(0.7).margin(0.01));  // leaves 1e-4 of the goal, which is flat

  const SearchSpace choices{{4, true}, {3, false}};
  const auto sum = [](const SearchPoint& x) { return PointValue{{x[0] + x[1]}, {}, 0.0}; };
  const Trail all = one_goal_search(choices, {50, 1, 1, {}}, each(sum));
  std::set<SearchPoint> different;
  for (const AskedPoint& asked : all) different.insert(asked.point);
  CHECK((all.size() == 12 && different.size() == 12));
  CHECK(best_value(all) == 0.0);
  // With fewer points than combinations it goes from neighbour to neighbour.
  const SearchSpace many{{40, true}, {40, true}};
  CHECK(best_value(one_goal_search(many, {120, 1, 1, {}}, each(sum))) == 0.0);
}

TEST_CASE("search: where most of the space cannot be built it still finds the corner that can",
          "[cases][search]") {
  // Buildable: x + y < 0.4 only; the least there of (x − 1)² + (y − 1)² lies on the limit
  // x + y = 0.3, at x = y = 0.15.
  const auto value = [](const SearchPoint& x) {
    PointValue v{{std::pow(x[0] - 1, 2) + std::pow(x[1] - 1, 2)}, {x[0] + x[1] - 0.3}, 0.0};
    if (x[0] + x[1] < 0.4) return v;
    return PointValue{{}, {x[0] + x[1] - 0.3}, 1.0, true};
  };
  const Trail trail = one_goal_search(continuous(2), {150, 3, 1, {}}, each(value));
  const AskedPoint& best = trail[best_of(trail)];
  CHECK(distance_to_allowed(best.value) == 0.0);
  CHECK(best.point[0] == Approx(0.15).margin(0.01));
  CHECK(costly(trail) <= 150);
  CHECK(trail.size() > 150);  // what is told without work does not count
}

TEST_CASE("search: where nothing can be built it ends", "[cases][search]") {
  const auto nothing = [](const SearchPoint& x) { return PointValue{{}, {}, 1.0 + x[0], true}; };
  CHECK(one_goal_search(continuous(3), {40, 1, 2, {}}, each(nothing)).size() <= 40 * most_cheap);
  CHECK(trade_off_search(continuous(3), 2, {40, 1, 2, {}}, each(nothing)).size() <=
        40 * most_cheap);
}

TEST_CASE("search: what the evaluation throws comes through both searches", "[cases][search]") {
  struct Enough {};
  int left = 60;
  std::mutex counting;
  const Evaluate short_lived = [&](const std::vector<SearchPoint>& points) {
    const std::lock_guard lock(counting);
    std::vector<PointValue> values;
    for (const SearchPoint& x : points) {
      if (--left < 0) throw Enough();
      values.push_back({{x[0], 1 - x[0]}, {}, 0.0});
    }
    return values;
  };
  CHECK_THROWS_AS(one_goal_search(continuous(3), {100, 1, 2, {}}, short_lived), Enough);
  left = 60;
  CHECK_THROWS_AS(trade_off_search(continuous(3), 2, {100, 1, 2, {}}, short_lived), Enough);
}

TEST_CASE("search: of a front no point beats another, and all it leaves out is beaten",
          "[cases][search]") {
  const auto limited = [](const SearchPoint& x) {
    PointValue v = zdt1(x);
    v.misses = {0.25 - x[0]};  // the front begins at f1 = 0.25
    return v;
  };
  const Trail trail = trade_off_search(continuous(3), 2, {400, 2, 1, {}}, each(limited));
  const auto front = front_of(trail);
  REQUIRE(front.size() > 5);
  const std::set<std::size_t> on(front.begin(), front.end());
  for (const std::size_t i : front) {
    CHECK(trail[i].point[0] >= 0.25);
    for (const std::size_t k : front) CHECK_FALSE(dominates(trail[k].value, trail[i].value));
  }
  for (std::size_t i = 0; i < trail.size(); ++i)
    if (!on.contains(i) && distance_to_allowed(trail[i].value) == 0.0)
      CHECK(std::any_of(front.begin(), front.end(), [&](std::size_t k) {
        return dominates(trail[k].value, trail[i].value) ||
               trail[k].value.goals == trail[i].value.goals;
      }));
}
