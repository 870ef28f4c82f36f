// tests/mesh/mesh_size_test.cpp — where the size field asks for short edges.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mesh_size.h"

#include <catch2/catch.hpp>

#include "gears.h"

using namespace lodegear;
using Catch::WithinRel;

namespace {

struct Drawn {
  UnitDrawing unit;
  Arrangement drawing;
};
Drawn drawn(const Gear& gear, Member member) {
  Drawn d;
  d.unit = unit_drawing(gear, mesh_plan(gear, {}), member);
  d.drawing = arrangement(d.unit.domain, d.unit.outlines);
  return d;
}

}  // namespace

TEST_CASE("mesh size: a pole piece has four corners of steel", "[mesh][mesh_size]") {
  const Drawn d = drawn(standard_gear(), Member::modulator);
  const auto found = corners(d.unit, d.drawing);
  CHECK(found.size() == 4);
  for (const Corner& c : found) CHECK(c.kind == Corner::Kind::steel);
}

TEST_CASE("mesh size: a joint of magnets on a hub is a corner of magnets only",
          "[mesh][mesh_size]") {
  const Drawn d = drawn(standard_gear(), Member::sun);
  const auto found = corners(d.unit, d.drawing);
  CHECK(found.size() == 4);
  for (const Corner& c : found) CHECK(c.kind == Corner::Kind::magnet);
}

TEST_CASE("mesh size: rounded corners are none", "[mesh][mesh_size]") {
  Gear gear = standard_gear();
  SectorPole pole = sector_pole(10 * degree, 10 * degree);
  pole.corner_inner = pole.corner_outer = 0.5 * mm;
  gear.modulator->shape = pole;
  const Drawn d = drawn(gear, Member::modulator);
  CHECK(corners(d.unit, d.drawing).empty());
}

TEST_CASE("mesh size: lengths are those of the gap circle there and grow away from it",
          "[mesh][mesh_size]") {
  const Drawn d = drawn(standard_gear(), Member::ring);
  const SizeField size(d.unit, d.drawing, 1.0);
  const EndCircle& gap = d.unit.limits.inner;
  const double edge = 2 * pi * gap.radius / gap.n_edges;
  CHECK_THAT(size.at(polar(gap.radius, 0.0)), WithinRel(edge, 1e-12));
  CHECK(size.at(polar(41 * mm, 0.0)) > 2 * edge);
}

TEST_CASE("mesh size: at a corner of steel lengths fall to a small part", "[mesh][mesh_size]") {
  const Drawn d = drawn(standard_gear(), Member::modulator);
  const SizeField size(d.unit, d.drawing, 1.0);
  const double corner = size.at(polar(31 * mm, pi / 34)), between = size.at(polar(31 * mm, 0.0));
  CHECK(corner < between / 10);
}

TEST_CASE("mesh size: the field repeats from one side of a sector to the other",
          "[mesh][mesh_size]") {
  const Drawn d = drawn(standard_gear(), Member::sun);
  const SizeField size(d.unit, d.drawing, 1.0);
  for (double r = 1.0; r < 30.0; r += 0.7) {
    const double low = size.at(polar(r * mm, d.unit.start_angle));
    const double high = size.at(polar(r * mm, d.unit.start_angle + d.unit.angle));
    CHECK_THAT(low, WithinRel(high, 1e-9));  // round-off of a turned point
  }
}
