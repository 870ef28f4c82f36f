// tests/mesh/arrangement_test.cpp — faces of small drawings known by hand.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/arrangement.h"
#include "materials/constants.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <numbers>

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;
using Eigen::Vector2d;

namespace {

MeshRegion named(const std::string& part) { return {RegionKind::steel, "steel", part, -1}; }

Outline square(double x, double y, double side, const std::string& part) {
  return {{rectangle({x + side / 2, y + side / 2}, side, side, 0.0)}, named(part)};
}

std::map<std::string, double> areas(const Arrangement& a) {
  std::map<std::string, double> sum;
  for (const ArrangementFace& f : a.faces) sum[f.label ? f.label->part : "outside"] += area(a, f);
  return sum;
}

int n_faces(const Arrangement& a, const std::string& part) {
  return static_cast<int>(
      std::count_if(a.faces.begin(), a.faces.end(),
                    [&](const ArrangementFace& f) { return f.label && f.label->part == part; }));
}

}  // namespace

// Areas by school formulas; tolerance 1e-12: sums of a few round-offs.

TEST_CASE("arrangement: a later outline takes its part from an earlier one",
          "[mesh][arrangement]") {
  const auto a =
      arrangement(square(0, 0, 4, "ground"), {square(1, 1, 2, "A"), square(2, 2, 2, "B")});
  auto sum = areas(a);
  CHECK_THAT(sum["A"], WithinRel(3.0, 1e-12));
  CHECK_THAT(sum["B"], WithinRel(4.0, 1e-12));
  CHECK_THAT(sum["ground"], WithinRel(9.0, 1e-12));
}

TEST_CASE("arrangement: what reaches out of the domain is cut off", "[mesh][arrangement]") {
  const auto a = arrangement(square(0, 0, 4, "ground"), {square(3, 1, 2, "A")});
  auto sum = areas(a);
  CHECK_THAT(sum["A"], WithinRel(2.0, 1e-12));
  CHECK_THAT(sum["ground"], WithinRel(14.0, 1e-12));
  CHECK(sum.count("outside") == 0);
}

TEST_CASE("arrangement: neighbours that touch share one edge", "[mesh][arrangement]") {
  // The right square is half as high: its side splits the left one's.
  const auto a =
      arrangement(square(0, 0, 4, "ground"),
                  {square(0, 0, 2, "A"), {{rectangle({3.0, 0.5}, 2.0, 1.0, 0.0)}, named("B")}});
  int shared = 0;
  for (const ArrangementEdge& e : a.edges) {
    if (e.left < 0 || e.right < 0) continue;
    const auto& left = a.faces[static_cast<std::size_t>(e.left)].label;
    const auto& right = a.faces[static_cast<std::size_t>(e.right)].label;
    shared +=
        (left->part == "A" && right->part == "B") || (left->part == "B" && right->part == "A");
  }
  CHECK(shared == 1);
  auto sum = areas(a);
  CHECK_THAT(sum["A"] + sum["B"], WithinRel(6.0, 1e-12));
}

TEST_CASE("arrangement: a hole stays a hole and what lies in it a face of its own",
          "[mesh][arrangement]") {
  const auto a = arrangement(
      {{circle({0, 0}, 3.0)}, named("ground")},
      {{{circle({0.5, 0.2}, 1.5)}, named("A")}, {{circle({0.5, 0.2}, 1.0)}, named("B")}});
  auto sum = areas(a);
  CHECK_THAT(sum["ground"], WithinRel(pi * (9.0 - 2.25), 1e-12));
  CHECK_THAT(sum["A"], WithinRel(pi * 1.25, 1e-12));
  CHECK_THAT(sum["B"], WithinRel(pi, 1e-12));
}

TEST_CASE("arrangement: a free rectangle in a large face is a hole in it once",
          "[mesh][arrangement]") {
  // The rectangle's inside was once taken for the face around it when round-off made it a hair
  // larger than itself: many turned positions, so that some round up.
  for (double angle = 0.05; angle < 3.0; angle += 0.1) {
    const auto a = arrangement({{circle({0, 0}, 3.0)}, named("ground")},
                               {{{rectangle({1.0, 0.3}, 0.4, 0.5, angle)}, named("A")}});
    auto sum = areas(a);
    CHECK_THAT(sum["A"], WithinRel(0.2, 1e-12));
    CHECK_THAT(sum["ground"], WithinRel(9.0 * pi - 0.2, 1e-12));
  }
}

TEST_CASE("arrangement: two circles make the lens of the formula", "[mesh][arrangement]") {
  // Unit circles one radius apart: lens = 2π/3 − √3/2 (elementary geometry).
  const double lens = 2 * pi / 3 - std::sqrt(3.0) / 2;
  const auto a =
      arrangement({{circle({0, 0}, 4.0)}, named("ground")},
                  {{{circle({0, 0}, 1.0)}, named("A")}, {{circle({1, 0}, 1.0)}, named("B")}});
  auto sum = areas(a);
  CHECK_THAT(sum["A"], WithinRel(pi - lens, 1e-12));
  CHECK_THAT(sum["B"], WithinRel(pi, 1e-12));
}

TEST_CASE("arrangement: a flat that touches a round leaves two slivers", "[mesh][arrangement]") {
  const auto a = arrangement({annular_sector(0.0, 4.0, -1.0, 1.0), named("ground")},
                             {{annular_sector(0.0, 2.0, -1.0, 1.0), named("hub")},
                              {{rectangle({2.5, 0.0}, 1.0, 1.0, 0.0)}, named("block")}});
  auto sum = areas(a);
  CHECK_THAT(sum["hub"], WithinRel(4.0, 1e-12));
  CHECK_THAT(sum["block"], WithinRel(1.0, 1e-12));
  CHECK_THAT(sum["ground"], WithinRel(16.0 - 4.0 - 1.0, 1e-12));
}

TEST_CASE("arrangement: parts of one label become one face", "[mesh][arrangement]") {
  const auto a =
      arrangement(square(0, 0, 4, "ground"), {square(0, 0, 2, "A"), square(1, 0, 2, "A")});
  CHECK(n_faces(a, "A") == 1);
  CHECK_THAT(areas(a)["A"], WithinRel(6.0, 1e-12));
}

TEST_CASE("arrangement: what has vanished leaves no points behind", "[mesh][arrangement]") {
  // Air over air across a circle: pockets once cut gap circles into uneven arcs.
  const auto a = arrangement({{circle({0, 0}, 3.0)}, named("ground")},
                             {{{rectangle({3.0, 0.3}, 1.0, 1.0, 0.2)}, named("ground")}});
  CHECK(a.edges.size() == 4);
  for (const ArrangementEdge& e : a.edges) CHECK_THAT(e.curve.sweep, WithinAbs(pi / 2, 1e-12));
}

TEST_CASE("arrangement: points nearer than the tolerance are one", "[mesh][arrangement]") {
  const auto a =
      arrangement(square(0, 0, 1, "ground"),
                  {square(0, 0, 0.5, "A"), square(0.5 + 1e-11, 1e-11, 0.5 - 2e-11, "B")});
  CHECK(n_faces(a, "ground") == 1);
  CHECK(n_faces(a, "A") == 1);
  CHECK(n_faces(a, "B") == 1);
  CHECK_THAT(areas(a)["ground"], WithinAbs(0.5, 1e-9));  // the tolerance itself
}
