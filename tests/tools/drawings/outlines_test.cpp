// tests/tools/drawings/outlines_test.cpp — the outlines of parts: their areas, and wider ones.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <map>

#include "materials/input_error.h"
#include "mesh/member_limits.h"
#include "solver/fem/element_table.h"
#include "tests/mesh/gears.h"
#include "tools/drawings/kerf.h"
#include "tools/drawings/section_parts.h"

using namespace lodegear;
using Catch::WithinRel;
using Eigen::Vector2d;

namespace {

using Areas = std::map<std::pair<std::string, int>, double>;  // by part and index

Areas drawn_areas(const Gear& gear, Member member) {
  Areas areas;
  for (const FlatPart& part : section_parts(gear, member))
    areas[{part.label.part, part.label.index}] += area(part);
  return areas;
}

Areas meshed_areas(const MemberMesh& mesh) {
  Areas areas;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    const MeshRegion& region =
        mesh.regions[static_cast<std::size_t>(mesh.region[static_cast<std::size_t>(t)])];
    if (region.kind != RegionKind::air)
      areas[{region.part, region.index}] += triangle_area(mesh, t);
  }
  return areas;
}

FlatPart part_of(const Loop& outline, std::vector<Loop> holes = {}) {
  return {{RegionKind::steel, "steel", "plate", -1}, outline, std::move(holes)};
}

Loop backwards(const Loop& loop) {
  Loop result;
  for (auto c = loop.rbegin(); c != loop.rend(); ++c) {
    result.push_back(*c);
    std::swap(result.back().from, result.back().to);
    result.back().sweep = -c->sweep;
  }
  return result;
}

/// A body grown by d has the area A + L d + π d² as long as no corner points inwards (Steiner's
/// formula for parallel bodies; a smooth inner arc of a larger radius takes part as it is).
double steiner(const FlatPart& part, double d) {
  return area(part) + length_of_cut(part) * d + pi * d * d;
}

}  // namespace

TEST_CASE("outlines: every part of every gear has the area of its mesh",
          "[tools][drawings][slow]") {
  const NamedGear named = GENERATE(from_range(gears_of_every_shape()));
  INFO(named.name);
  // A parabola instead of an arc of φ is off by φ⁴/480 of the sector's area: 5e-5 in a round bar of
  // 16 edges. A finer mesh shows that it is the mesh that is off.
  Resolution finer;
  finer.fineness = 1.6;
  for (const MemberMesh& mesh : member_meshes(named.gear, mesh_plan(named.gear, finer))) {
    INFO(name_of(mesh.member));
    const Areas drawn = drawn_areas(named.gear, mesh.member);
    for (const auto& [part, meshed] : meshed_areas(mesh)) {
      INFO(part.first << " " << part.second);
      REQUIRE(drawn.contains(part));
      // Foil of 0.03 mm on a radius of 24 mm is a difference of two
      // discs, 400 times as large as what is left of them.
      const bool foil = named.name.find("foil") != std::string::npos && part.first != "magnet";
      CHECK_THAT(drawn.at(part), WithinRel(meshed, foil ? 1e-3 : 1e-5));
    }
  }
}

TEST_CASE("outlines: a pole piece with bridges is one piece with all others", "[tools][drawings]") {
  Gear gear = standard_gear();
  gear.modulator->bridge = Bridge{BridgePlace::middle, 0.5 * mm};
  const std::vector<FlatPart> cage = laminations(gear);
  REQUIRE(cage.size() == 1);
  REQUIRE(cage[0].holes.size() == 1);  // slots open on both sides: one loop outside, one inside
  double sum = 0.0;
  for (const auto& [part, drawn] : drawn_areas(gear, Member::modulator)) sum += drawn;
  CHECK_THAT(area(cage[0]), WithinRel(sum, 1e-12));
  CHECK(laminations_around(gear) == 1);
}

TEST_CASE("outlines: widened by a kerf they follow Steiner's formula", "[tools][drawings]") {
  const double d = 0.1 * mm;
  const FlatPart square =
      part_of(polygon({{0, 0}, {10 * mm, 0}, {10 * mm, 10 * mm}, {0, 10 * mm}}));
  CHECK_THAT(area(grown(square, d, "kerf")), WithinRel(steiner(square, d), 1e-12));
  const FlatPart disc = part_of(circle(Vector2d(1 * mm, 2 * mm), 5 * mm));
  CHECK_THAT(area(grown(disc, d, "kerf")), WithinRel(pi * 5.1 * mm * 5.1 * mm, 1e-12));
  for (const NamedGear& named : gears_of_every_shape()) {
    if (!named.gear.modulator || named.gear.modulator->bridge) continue;
    INFO(named.name);
    for (FlatPart piece : laminations(named.gear)) {
      piece.holes.clear();
      CHECK_THAT(area(grown(piece, d, "kerf")), WithinRel(steiner(piece, d), 1e-9));
    }
  }
}

TEST_CASE("outlines: holes shrink by the kerf, inner corners stay sharp", "[tools][drawings]") {
  const double d = 0.1 * mm;
  const FlatPart washer =
      part_of(circle(Vector2d::Zero(), 5 * mm), {backwards(circle(Vector2d::Zero(), 2 * mm))});
  CHECK_THAT(area(grown(washer, d, "kerf")),
             WithinRel(pi * (5.1 * 5.1 - 1.9 * 1.9) * mm * mm, 1e-12));
  // An L of two squares: five outer corners and one inner, where two strips of d overlap in d².
  const FlatPart ell = part_of(polygon(
      {{0, 0}, {8 * mm, 0}, {8 * mm, 4 * mm}, {4 * mm, 4 * mm}, {4 * mm, 8 * mm}, {0, 8 * mm}}));
  const double corners = (5 * pi / 4 - 1) * d * d;
  CHECK_THAT(area(grown(ell, d, "kerf")), WithinRel(area(ell) + 32 * mm * d + corners, 1e-12));
}

TEST_CASE("outlines: cages with bridges grow by what Steiner's formula allows",
          "[tools][drawings]") {
  const double d = 0.05 * mm;
  int bridged = 0;
  for (const NamedGear& named : gears_of_every_shape()) {
    if (!named.gear.modulator || !named.gear.modulator->bridge) continue;
    ++bridged;
    INFO(named.name);
    for (const FlatPart& piece : laminations(named.gear)) {
      const double more = area(grown(piece, d, "kerf")) - area(piece);
      // Inner corners take some d² away, 2 cot of half a notch's angle at most; a ring has no π d².
      CHECK(more < length_of_cut(piece) * d + 2 * pi * d * d * 2 * 17);
      CHECK(more > length_of_cut(piece) * d - 10 * d * d * 4 * 17);
    }
  }
  CHECK(bridged > 5);
}

TEST_CASE("outlines: a kerf wider than a hole is a mistake that is told", "[tools][drawings]") {
  const FlatPart washer =
      part_of(circle(Vector2d::Zero(), 5 * mm), {backwards(circle(Vector2d::Zero(), 1 * mm))});
  CHECK_THROWS_AS(grown(washer, 1.2 * mm, "--kerf-mm"), InputError);
}

TEST_CASE("outlines: the extent holds the bulge of an arc", "[tools][drawings]") {
  const Extent e = extent(annular_sector(1.0, 2.0, -0.5, 0.5).front());
  CHECK_THAT(e.high.x(), WithinRel(2.0, 1e-12));
  CHECK_THAT(e.low.x(), WithinRel(std::cos(0.5), 1e-12));
  CHECK_THAT(e.high.y(), WithinRel(2.0 * std::sin(0.5), 1e-12));
}
