// tests/materials/bh_curve_test.cpp — what a table must be, and what becomes of it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/bh_curve.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "materials/reluctivity.h"
#include "tests/materials/materials_of_tests.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;

static std::string first_fault(const std::vector<BhPoint>& table) {
  const auto faults = bh_table_faults(table);
  return faults.empty() ? "" : faults.front();
}
static std::string last_fault(const std::vector<BhPoint>& table) {
  const auto faults = bh_table_faults(table);
  return faults.empty() ? "" : faults.back();
}

TEST_CASE("bh curve: a good table has no faults", "[materials][bh_curve]") {
  CHECK(bh_table_faults(invented_table()).empty());
}

TEST_CASE("bh curve: each fault of a table is told with its point", "[materials][bh_curve]") {
  auto table = invented_table();
  SECTION("too short") {
    CHECK_THAT(first_fault({{0, 0}, {100, 1}}), Contains("too few points"));
    CHECK_THAT(first_fault({}), Contains("too few points"));
  }
  SECTION("B falls") {
    table[4].b = 0.5;
    CHECK_THAT(first_fault(table), Contains("B does not rise at H = 150 A/m, B = 0.5 T"));
  }
  SECTION("H stands still") {
    table[4].h = 100;
    CHECK_THAT(first_fault(table), Contains("H does not rise at H = 100 A/m"));
  }
  SECTION("more polarisation than iron has") {
    for (BhPoint& point : table) point.b *= 1.15;
    CHECK_THAT(first_fault(table), Contains("no such steel has more than 2.16 T"));
  }
  SECTION("slower than air") {
    table.back().b -= 0.1;
    CHECK_THAT(first_fault(table), Contains("polarisation B − µ0 H falls at H = 500000 A/m"));
  }
  SECTION("a loop instead of the first curve") {
    table.front().b = 0.8;
    table[1].b = 0.85;
    CHECK_THAT(first_fault(table), Contains("not a loop"));
  }
  SECTION("columns swapped") {
    for (BhPoint& point : table) std::swap(point.h, point.b);
    CHECK_THAT(first_fault(table), Contains("swapped"));
  }
  SECTION("H in the wrong unit") {
    for (BhPoint& point : table) point.h *= 1e-5;
    CHECK_THAT(last_fault(table), Contains("two million"));
  }
  SECTION("a point off the curve") {
    table.insert(table.begin() + 7, {1020, 1.61});
    CHECK_THAT(first_fault(table), Contains("H/B falls again at H = 1020 A/m, B = 1.61 T"));
  }
  SECTION("no numbers") {
    table[3].b = std::nan("");
    CHECK_THAT(first_fault(table), Contains("no numbers"));
  }
  SECTION("a curve with faults cannot be made") {
    table[4].b = 0.5;
    table[6].b = 0.4;
    CHECK_THROWS_AS(BhCurve(table), InputError);
  }
}

TEST_CASE("bh curve: zero may be left out", "[materials][bh_curve]") {
  auto table = invented_table();
  table.erase(table.begin());
  CHECK(BhCurve(table).points().front().h == 0.0);
  CHECK(BhCurve(table).points().size() == BhCurve(invented_table()).points().size());
}

TEST_CASE("bh curve: the S-shaped start becomes a line to the largest B/H",
          "[materials][bh_curve]") {
  // Of the invented table 0.6/100 and 0.9/150 are both the largest; the later one is taken.
  const BhCurve curve(invented_table());
  CHECK(curve.points()[1].h == 150.0);
  CHECK(curve.points()[1].b == 0.9);
  const Reluctivity law = Reluctivity::from_curve(curve);
  CHECK(law.at(0.01).nu == law.at(0.25).nu);
}

TEST_CASE("bh curve: nu rises with B", "[materials][bh_curve]") {
  const Reluctivity law = Reluctivity::from_curve(BhCurve(invented_table()));
  double before = 0.0;
  for (double b = 0.0; b < 4.0; b += 0.001) {
    REQUIRE(law.at(b * b).nu >= before * (1.0 - 1e-12));  // round-off
    before = law.at(b * b).nu;
  }
}

TEST_CASE("bh curve: J that falls by rounding only is held", "[materials][bh_curve]") {
  auto table = invented_table();
  table.back().b = std::floor(table.back().b * 100.0) / 100.0;
  const auto points = BhCurve(table).points();
  for (std::size_t i = 1; i < points.size(); ++i)
    CHECK(points[i].b - points[i - 1].b >=
          mu0 * (points[i].h - points[i - 1].h) - 1e-12);  // round-off
}

TEST_CASE("bh curve: a table that stops early is carried on by the law of approach",
          "[materials][bh_curve]") {
  // The invented table follows J = 2 (1 − 1000/H) exactly from 10 kA/m on, so cutting it at 50 kA/m
  // must give the same law back.
  auto table = invented_table();
  table.resize(11);
  REQUIRE(table.back().h == 5e4);
  const BhCurve curve(table);
  CHECK(curve.carried_on());
  CHECK(curve.last_given_b() == table.back().b);
  // Between the added points the cubic differs from the law by less than 1 mT.
  for (const double h : {6e4, 1e5, 1.7e5, 2.5e5})
    CHECK_THAT(curve.polarisation(h), WithinAbs(2.0 * (1.0 - 1000.0 / h), 1e-3));
  CHECK_FALSE(BhCurve(invented_table()).carried_on());
}

TEST_CASE("bh curve: whatever the last point, the curve ends with the slope of air",
          "[materials][bh_curve]") {
  for (std::size_t n = 4; n <= invented_table().size(); ++n) {
    auto table = invented_table();
    table.resize(n);
    const auto points = BhCurve(table).points();
    const BhPoint &p = points[points.size() - 2], &q = points.back();
    const double slope = (q.b - p.b) / (q.h - p.h) / mu0;
    INFO("table of " << n << " points");
    CHECK(slope >= 1.0 - 1e-9);  // round-off
    CHECK(slope <= 1.05);        // the promise of BhCurve
    for (const BhPoint& point : points) CHECK(point.b - mu0 * point.h <= highest_polarisation);
  }
}

TEST_CASE("guaranteed minimum: passes through the guaranteed points", "[materials][bh_curve]") {
  const BhCurve typical(invented_table());
  const std::vector<GuaranteedPoint> least{{2500, 1.50}, {5000, 1.60}, {10000, 1.72}};
  const BhCurve worst = guaranteed_minimum(typical, least);
  for (const GuaranteedPoint& point : least)
    CHECK_THAT(worst.polarisation(point.h), WithinAbs(point.j, 1e-9));  // points of its table
}

TEST_CASE("guaranteed minimum: is never above the typical curve and joins it at both ends",
          "[materials][bh_curve]") {
  const BhCurve typical(invented_table());
  const BhCurve worst = guaranteed_minimum(typical, {{2500, 1.50}, {5000, 1.60}, {10000, 1.72}});
  for (double h = 20.0; h < 1e6; h *= 1.2)
    // 3 mT: the two curves have different points and the cubics differ that much in between
    CHECK(worst.polarisation(h) <= typical.polarisation(h) + 3e-3);
  CHECK_THAT(worst.polarisation(150.0),
             WithinAbs(typical.polarisation(150.0), 1e-9));                         // same point
  CHECK_THAT(worst.polarisation(2e5), WithinAbs(typical.polarisation(2e5), 1e-9));  // same point
  // Constant reduction from 10 to 20 kA/m, both points of the table.
  const double at_10 = typical.polarisation(1e4) - worst.polarisation(1e4);
  CHECK_THAT(typical.polarisation(2e4) - worst.polarisation(2e4), WithinAbs(at_10, 1e-9));
}

TEST_CASE("guaranteed minimum: a guarantee above the typical curve changes nothing",
          "[materials][bh_curve]") {
  const BhCurve typical(invented_table());
  const BhCurve same = guaranteed_minimum(typical, {{5000, 1.99}});
  for (const BhPoint& point : typical.points())
    CHECK_THAT(same.polarisation(point.h), WithinAbs(typical.polarisation(point.h), 1e-9));  // same
}

TEST_CASE("stacking: the mean field is f B + (1 − f) mu0 H", "[materials][bh_curve]") {
  const BhCurve steel(invented_table());
  const double f = 0.95;
  const BhCurve stack = stacked(steel, f);
  for (std::size_t i = 0; i < steel.points().size(); ++i) {
    const BhPoint &s = steel.points()[i], &m = stack.points()[i];
    CHECK(m.h == s.h);
    CHECK_THAT(m.b, WithinAbs(f * s.b + (1.0 - f) * mu0 * s.h, 1e-15));  // round-off
    CHECK_THAT(steel_flux_density(m.b, m.h, f), WithinAbs(s.b, 1e-14));  // and back
  }
  CHECK(stacked(steel, 1.0).points().back().b == steel.points().back().b);
}

TEST_CASE("stacking: between the points the law follows too", "[materials][bh_curve]") {
  const BhCurve steel(invented_table());
  const Reluctivity solid = Reluctivity::from_curve(steel);
  const Reluctivity stack = Reluctivity::from_curve(stacked(steel, 0.9));
  for (double b = 0.05; b < 2.5; b += 0.01) {
    const double h = solid.at(b * b).nu * b, mean = 0.9 * b + 0.1 * mu0 * h;
    // Two cubics through the same points; 2 mT is a tenth of what the tables themselves are good
    // for.
    CHECK_THAT(flux_density_at(stack, h), WithinAbs(mean, 2e-3));
  }
}
