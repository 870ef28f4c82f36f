// tests/mesh/outline_test.cpp — lines, arcs and loops.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/outline.h"
#include "materials/constants.h"

#include <catch2/catch.hpp>
#include <numbers>

#include "mesh/crossings.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;
using Eigen::Vector2d;

TEST_CASE("outline: areas of circle, rectangle and annular sector are the school formulas",
          "[mesh][outline]") {
  // Tolerances: round-off.
  CHECK_THAT(signed_area(circle({3.0, -2.0}, 1.5)), WithinRel(pi * 2.25, 1e-14));
  CHECK_THAT(signed_area(rectangle({1.0, 1.0}, 2.0, 3.0, 0.7)), WithinRel(6.0, 1e-14));
  CHECK_THAT(signed_area(annular_sector(1.0, 2.0, 0.3, 1.7).front()),
             WithinRel(0.5 * 3.0 * 1.4, 1e-14));
  CHECK_THAT(signed_area(annular_sector(0.0, 2.0, 0.3, 2.9).front()),
             WithinRel(0.5 * 4.0 * 2.6, 1e-14));
}

TEST_CASE("outline: a point between a chord and its arc lies inside the circle",
          "[mesh][outline]") {
  const Loop loop = circle({0.0, 0.0}, 1.0);
  for (double angle = 0.1; angle < 6.2; angle += 0.37) {
    CHECK(winding_number(loop, polar(0.9999, angle)) == 1);
    CHECK(winding_number(loop, polar(1.0001, angle)) == 0);
  }
}

TEST_CASE("outline: an annulus does not contain its bore", "[mesh][outline]") {
  const Outline annulus{annular_sector(1.0, 2.0, 0.4, 0.4 + 2 * pi), {}};
  CHECK(annulus.loops.size() == 2);
  CHECK(contains(annulus, polar(1.5, 2.0)));
  CHECK_FALSE(contains(annulus, polar(0.5, 2.0)));
  CHECK_FALSE(contains(annulus, polar(2.5, 2.0)));
}

TEST_CASE("outline: an arc is cut into equal pieces of at most a quarter turn", "[mesh][outline]") {
  const auto pieces = arc({0.0, 0.0}, 2.0, 0.1, 0.1 - 1.5 * pi);
  REQUIRE(pieces.size() == 3);
  for (const Curve& c : pieces) CHECK_THAT(c.sweep, WithinAbs(-pi / 2, 1e-15));
  CHECK(pieces[0].to == pieces[1].from);
}

TEST_CASE("crossings: line and circle meet where Pythagoras says", "[mesh][crossings]") {
  const Curve l = line({-2.0, 0.6}, {2.0, 0.6});
  const Curve quarter = arc({0.0, 0.0}, 1.0, 0.0, pi / 2).front();
  const auto common = crossings(l, quarter, 1e-12);
  REQUIRE(common.size() == 1);  // the other crossing lies off the quarter
  CHECK((common[0] - Vector2d(0.8, 0.6)).norm() < 1e-15);
}

TEST_CASE("crossings: a line that touches a circle meets it once", "[mesh][crossings]") {
  const auto common = crossings(line({-1.0, 1.0}, {1.0, 1.0}),
                                arc({0.0, 0.0}, 1.0, pi / 4, 3 * pi / 4).front(), 1e-9);
  REQUIRE(common.size() == 1);
  CHECK((common[0] - Vector2d(0.0, 1.0)).norm() < 1e-15);
}

TEST_CASE("crossings: two circles meet on their radical line", "[mesh][crossings]") {
  const Curve a = arc({0.0, 0.0}, 5.0, 0.0, pi / 2).front();
  const Curve b = arc({6.0, 0.0}, 5.0, pi / 2, pi).front();
  const auto common = crossings(a, b, 1e-12);
  REQUIRE(common.size() == 1);
  CHECK((common[0] - Vector2d(3.0, 4.0)).norm() < 1e-14);  // 3-4-5 triangle
}

TEST_CASE("crossings: of overlapping lines the ends are found", "[mesh][crossings]") {
  const auto common = crossings(line({0.0, 0.0}, {2.0, 0.0}), line({1.0, 0.0}, {3.0, 0.0}), 1e-12);
  CHECK(common.size() == 2);
}
