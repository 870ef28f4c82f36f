// tests/tools/drawings/carriers_test.cpp — pockets hold what goes into them; solids are closed.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/carriers.h"

#include <catch2/catch.hpp>
#include <map>
#include <regex>

#include "cases/read_case.h"
#include "mesh/member_limits.h"
#include "mesh/shapes/block_magnets.h"
#include "tests/mesh/gears.h"
#include "tests/tools/program.h"
#include "tools/drawings/section_parts.h"
#include "tools/drawings/stl.h"

using namespace lodegear;
using Catch::WithinRel;
using Eigen::Vector2d;

namespace {

Case case_of(const Gear& gear) {
  Case c;
  c.name = "test";
  c.gear = gear;
  return c;
}

/// Every carrier and cage of a gear.
std::vector<Carrier> carriers_of(const Gear& gear, const DrawOptions& options) {
  const Case c = case_of(gear);
  std::vector<Carrier> list;
  for (const Member member : members_present(gear)) {
    const auto carrier =
        member == Member::modulator ? cage(c, options) : rotor_carrier(c, member, options);
    if (carrier) list.push_back(*carrier);
  }
  return list;
}

/// Volume by layers of the exact outlines.
double layered_volume(const Carrier& carrier) {
  double sum = 0.0;
  for (const FlatPart& part : flat_parts(carrier.domain, carrier.outlines))
    sum += area(part) * (carrier.plate + (part.label.part == "carrier" ? carrier.stack : 0.0));
  return sum;
}

/// The number that admesh prints after these words, in its last column.
double reported(const std::string& text, const std::string& words) {
  std::smatch match;
  const std::regex row(words + R"(\s*:\s*(?:\S+\s+)??(-?[0-9.]+)\s*(?:\n|Volume|$))");
  if (!std::regex_search(text, match, row)) throw std::runtime_error("admesh: no " + words);
  return std::stod(match[1]);
}

}  // namespace

TEST_CASE("carriers: no magnet and no pole piece cuts into what holds it",
          "[tools][drawings][carriers][slow]") {
  const NamedGear named = GENERATE(from_range(gears_of_every_shape()));
  INFO(named.name);
  const Case c = case_of(named.gear);
  for (const Member member : members_present(named.gear)) {
    const auto carrier = member == Member::modulator ? cage(c, {}) : rotor_carrier(c, member, {});
    if (!carrier) continue;
    const std::vector<FlatPart> held = fingers(*carrier);
    REQUIRE(!held.empty());
    for (const FlatPart& part : section_parts(named.gear, member))
      for (const FlatPart& finger : held) {
        if (part.label.part == "sleeve") continue;
        int inside = 0;
        Outline body{{finger.outline}, {}};
        for (const Loop& hole : finger.holes) body.loops.push_back(hole);
        for (const Curve& side : part.outline)
          for (const double t : {0.1, 0.3, 0.5, 0.7, 0.9}) {
            // A hair inside the part, so that what merely touches does not count.
            const Vector2d a = point_at(side, t - 0.01), b = point_at(side, t + 0.01);
            const Vector2d left = polar(1e-8, std::atan2(b.y() - a.y(), b.x() - a.x()) + pi / 2);
            inside += contains(body, point_at(side, t) + left) ? 1 : 0;
          }
        CHECK(inside == 0);
      }
  }
}

TEST_CASE("carriers: nothing of them reaches into a gap farther than the magnets",
          "[tools][drawings][carriers]") {
  for (const NamedGear& named : gears_of_every_shape()) {
    INFO(named.name);
    const Case c = case_of(named.gear);
    for (const Member member : members_present(named.gear)) {
      if (member == Member::modulator) continue;
      const auto carrier = rotor_carrier(c, member, {});
      if (!carrier) continue;
      const RadialExtent solid = body_extent(rotor_of(named.gear, member));
      double largest = 0.0, least = 1.0;
      for (const Loop& loop : carrier->domain.loops)
        for (const Curve& side : loop) {
          largest = std::max(largest, side.from.norm());
          least = std::min(least, side.from.norm());
        }
      if (member == Member::sun) CHECK(largest <= solid.outer * (1 + 1e-9));
      if (member == Member::ring) CHECK(least >= solid.inner * (1 - 1e-9));
    }
  }
}

TEST_CASE("carriers: a relieved corner is gone where a sharp edge would stand",
          "[tools][drawings][carriers]") {
  Gear gear = standard_gear();
  gear.sun->shape = block(10 * mm, 5 * mm, 26.5 * mm, 0.1 * mm);
  gear.sun->pattern = AlternatingParallel{};
  gear.sun->inner_radius = 23 * mm;
  gear.sun->iron.reset();
  DrawOptions sharp, relieved;
  sharp.relief = 0.0;
  relieved.relief = 0.5 * mm;
  const auto area_of = [&](const DrawOptions& options) {
    double sum = 0.0;
    for (const FlatPart& part : fingers(*rotor_carrier(case_of(gear), Member::sun, options)))
      sum += area(part);
    return sum;
  };
  // A circle of radius r through the corner, centred on the diagonal, cuts two segments of a right
  // angle each out of the walls: r²(π/2 − 1) a corner. The two inner corners of each of 8 pockets
  // count; the outer ones lie open.
  const double cut = 8 * 2 * 0.25 * mm * mm * (pi / 2 - 1);
  CHECK_THAT(area_of(sharp) - area_of(relieved), WithinRel(cut, 1e-6));
}

TEST_CASE("carriers: the end ring has a hole for every pole piece where the case has it",
          "[tools][drawings][carriers]") {
  Case c = read_case(std::string(LODEGEAR_SOURCE_DIR) + "/cases/vat_stirrer/case.toml");
  const auto ring = end_ring(c, {});
  REQUIRE(ring);
  CHECK(ring->holes.size() == 1 + 23);  // the bore besides
  int on_circle = 0;
  WholeCircle hole;
  for (const Loop& loop : ring->holes)
    if (is_circle(loop, hole) && std::abs(hole.centre.norm() - 57.5 * mm) < 1e-9) {
      CHECK_THAT(hole.radius, WithinRel(1.6 * mm, 1e-9));
      ++on_circle;
    }
  CHECK(on_circle == 23);
  CHECK(!end_ring(case_of(standard_gear()), {}));  // nothing to drill
}

TEST_CASE("stl: carriers of every gear are closed for an independent reader, and as large as drawn",
          "[tools][drawings][stl][slow]") {
  const NamedGear named = GENERATE(from_range(gears_of_every_shape()));
  INFO(named.name);
  for (const Carrier& carrier : carriers_of(named.gear, {})) {
    const Scratch scratch;
    const Outcome read = shell("admesh " + scratch.file("part.stl", stl_bytes(carrier, "test")));
    INFO("admesh, which tools/packages lists: " << read.err << read.out);
    REQUIRE(read.exit_code == 0);
    for (const char* fault :
         {"Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed",
          "Facets added", "Facets reversed", "Backwards edges", "Normals fixed"})
      CHECK(reported(read.out, fault) == 0.0);
    std::smatch match;
    REQUIRE(std::regex_search(read.out, match, std::regex(R"(Volume\s*:\s*([0-9.]+))")));
    // Chords lie within 5 µm of arcs, on a part some millimetres wide.
    CHECK_THAT(std::stod(match[1]), WithinRel(1e9 * layered_volume(carrier), 1e-3));
  }
}

TEST_CASE("stl: every edge is shared by two triangles that run it opposite ways",
          "[tools][drawings][stl]") {
  Gear gear = standard_gear();
  const Solid raised = solid(*cage(case_of(gear), {}));
  std::map<std::array<double, 6>, int> edges;
  for (const auto& t : raised.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      const Eigen::Vector3d &a = t[i], &b = t[(i + 1) % 3];
      ++edges[{a.x(), a.y(), a.z(), b.x(), b.y(), b.z()}];
      --edges[{b.x(), b.y(), b.z(), a.x(), a.y(), a.z()}];
    }
  int open = 0;
  for (const auto& [edge, balance] : edges) open += balance != 0 ? 1 : 0;
  CHECK(open == 0);
  CHECK(volume(raised) > 0.0);  // outside is outside
}
