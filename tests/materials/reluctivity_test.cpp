// tests/materials/reluctivity_test.cpp — ν(B²), its slope and its energy agree with one another.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/reluctivity.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/materials/materials_of_tests.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;

static Reluctivity table_law() { return Reluctivity::from_curve(BhCurve(invented_table())); }
static Reluctivity exponential_law() { return Reluctivity::exponential(3.5, 2.14, 95.0); }

static double field(const Reluctivity& law, double b) { return law.at(b * b).nu * b; }

/// ∫0^b H dB' by Simpson's rule on pieces much shorter than any piece of the law.
static double energy_by_quadrature(const Reluctivity& law, double b) {
  const int n = 40000;
  const double step = b / n;
  double sum = 0.0;
  for (int i = 0; i < n; ++i)
    sum += field(law, i * step) + 4.0 * field(law, (i + 0.5) * step) + field(law, (i + 1) * step);
  return sum * step / 6.0;
}

TEST_CASE("reluctivity: a constant law is H = nu B", "[materials][reluctivity]") {
  const Reluctivity law = Reluctivity::constant(250.0);
  const ReluctivityPoint point = law.at(1.44);
  CHECK(law.linear());
  CHECK(point.nu == 250.0);
  CHECK(point.dnu_db2 == 0.0);
  CHECK_THAT(point.energy, WithinRel(0.5 * 250.0 * 1.44, 1e-15));  // ½ ν B², round-off
}

TEST_CASE("reluctivity: the law passes through the points of the table",
          "[materials][reluctivity]") {
  const BhCurve curve(invented_table());
  const Reluctivity law = Reluctivity::from_curve(curve);
  for (const BhPoint& point : curve.points())
    CHECK_THAT(field(law, point.b),
               WithinRel(point.h, 1e-12) || WithinAbs(0.0, 1e-300));  // round-off
}

TEST_CASE("reluctivity: dnu/dB2 is the slope of nu", "[materials][reluctivity]") {
  for (const Reluctivity& law : {table_law(), exponential_law()})
    for (double b = 0.013; b < 4.0; b *= 1.09) {
      const double step = 1e-5 * b * b;
      const double difference = (law.at(b * b + step).nu - law.at(b * b - step).nu) / (2.0 * step);
      // A central difference: its own error is (step²/6) ν‴ and, at a joint where ν″ jumps, step
      // ν″; both below 1e-4 of the largest slope nearby, ν/B².
      INFO("B = " << b);
      CHECK_THAT(law.at(b * b).dnu_db2, WithinAbs(difference, 1e-4 * law.at(b * b).nu / (b * b)));
    }
}

TEST_CASE("reluctivity: the energy is the integral of H", "[materials][reluctivity]") {
  for (const Reluctivity& law : {table_law(), exponential_law()})
    for (const double b : {0.05, 0.5, 1.1, 1.55, 1.9, 2.3, 3.0})
      // Simpson's rule over joints where H″ jumps: about 1e-9 with these steps.
      CHECK_THAT(law.at(b * b).energy, WithinRel(energy_by_quadrature(law, b), 1e-8));
}

TEST_CASE("reluctivity: H rises everywhere and never faster than in air",
          "[materials][reluctivity]") {
  for (const Reluctivity& law : {table_law(), exponential_law()}) {
    for (double b = 1e-4; b < 5.0; b += 1e-4) {
      const double slope = field_slope(law, b);
      REQUIRE(slope > 0.0);
      REQUIRE(slope <= nu0 * (1.0 + 1e-9));  // round-off of ν + 2 B² ν′
    }
  }
}

TEST_CASE("reluctivity: H and dH/dB are continuous", "[materials][reluctivity]") {
  for (const Reluctivity& law : {table_law(), exponential_law()}) {
    const BhCurve curve(invented_table());
    std::vector<double> joints{law.last_known_b()};
    for (const BhPoint& point : curve.points()) joints.push_back(point.b);
    for (const double b : joints) {
      if (b == 0.0) continue;
      const double before = b * (1.0 - 1e-12), after = b * (1.0 + 1e-12);
      // over 2e-12 of B nothing continuous can change by more than 1e-8 of itself
      CHECK_THAT(field(law, after), WithinRel(field(law, before), 1e-8));
      CHECK_THAT(field_slope(law, after), WithinRel(field_slope(law, before), 1e-8));
    }
  }
}

TEST_CASE("reluctivity: far beyond saturation nu tends to nu0", "[materials][reluctivity]") {
  for (const Reluctivity& law : {table_law(), exponential_law()}) {
    CHECK_THAT(field_slope(law, 20.0), WithinRel(nu0, 1e-12));  // slope ν0, round-off
    CHECK_THAT(law.at(1e12).nu, WithinRel(nu0, 1e-5));          // 2 T of 1e6 T are left
  }
}

TEST_CASE("reluctivity: the exponential law is its formula below the limit",
          "[materials][reluctivity]") {
  const double k1 = 3.5, k2 = 2.14, k3 = 95.0, b = 1.4;
  const ReluctivityPoint point = exponential_law().at(b * b);
  CHECK_THAT(point.nu, WithinRel(k1 * std::exp(k2 * b * b) + k3, 1e-15));       // round-off
  CHECK_THAT(point.dnu_db2, WithinRel(k1 * k2 * std::exp(k2 * b * b), 1e-15));  // round-off
  CHECK_THAT(
      field_slope(exponential_law(), exponential_law().last_known_b()),
      WithinRel(nu0, 1e-12));  // the limit is where the slope is ν0, bisected to the last bit
}

TEST_CASE("reluctivity: the exponential law without k1 or k2 is a straight line",
          "[materials][reluctivity]") {
  CHECK(Reluctivity::exponential(0.0, 2.0, 100.0).linear());
  CHECK(Reluctivity::exponential(50.0, 0.0, 100.0).at(1.0).nu == 150.0);
}

TEST_CASE("reluctivity: impossible exponential laws are refused", "[materials][reluctivity]") {
  const double nan = std::nan("");
  for (const auto& k : std::vector<std::vector<double>>{{-1, 2, 100},
                                                        {1, -2, 100},
                                                        {1, 2, -100},
                                                        {0, 0, 0},
                                                        {1e6, 2, 0},
                                                        {nan, 2, 3},
                                                        {0.1, 2, 0.1},
                                                        {100, 1e-9, 0}})
    CHECK_THROWS_AS(Reluctivity::exponential(k[0], k[1], k[2]), InputError);
}

TEST_CASE("reluctivity: steep exponents keep their limit in range", "[materials][reluctivity]") {
  const Reluctivity law = Reluctivity::exponential(1e-3, 200.0, 100.0);
  for (double b = 0.0; b < 3.0; b += 0.01) REQUIRE(std::isfinite(law.at(b * b).energy));
  CHECK(field_slope(law, 2.0) <= nu0 * (1.0 + 1e-9));  // round-off
}

TEST_CASE("reluctivity: at zero the law is its own start", "[materials][reluctivity]") {
  for (const Reluctivity& law : {table_law(), exponential_law()}) {
    const ReluctivityPoint zero = law.at(0.0);
    CHECK(zero.energy == 0.0);
    CHECK_THAT(zero.nu, WithinRel(law.at(1e-12).nu, 1e-9));  // ν changes by k1 k2 B² only
    CHECK(std::isfinite(zero.dnu_db2));
  }
}

TEST_CASE("flux density: inverts H(B)", "[materials][reluctivity]") {
  for (const Reluctivity& law : {table_law(), exponential_law(), Reluctivity::constant(500.0)})
    for (const double b : {0.02, 0.3, 1.0, 1.5, 2.0, 2.6, 7.0})
      CHECK_THAT(flux_density_at(law, field(law, b)), WithinRel(b, 1e-11));  // H/B·1e-16 over slope
  CHECK(flux_density_at(table_law(), 0.0) == 0.0);
}

TEST_CASE("reluctivity: random tables stay monotone", "[materials][reluctivity]") {
  // Any table the checks let through must give a convex energy, however unlike steel it is.
  std::uint32_t state = 12345;  // fixed seed of a small linear congruential generator
  const auto next = [&] {
    state = state * 1664525u + 1013904223u;
    return double(state >> 8) / double(1u << 24);
  };
  int accepted = 0;
  for (int trial = 0; trial < 3000; ++trial) {
    std::vector<BhPoint> table;
    double h = 0.0, b = 0.0;
    for (int i = 0; i < 8; ++i) {
      const double dh = std::exp(3.0 + 9.0 * next());
      h += dh;
      b += mu0 * dh * (1.0 + 1e4 * std::pow(next(), 12.0)) + 0.002 * next();
      table.push_back({h, b});
    }
    if (!bh_table_faults(table).empty()) continue;
    ++accepted;
    const Reluctivity law = Reluctivity::from_curve(BhCurve(table));
    const double end = law.last_known_b();
    for (int i = 1; i <= 400; ++i) REQUIRE(field_slope(law, 1.2 * end * i / 400.0) > 0.0);
  }
  CHECK(accepted > 100);  // the loop must have tried something
}
