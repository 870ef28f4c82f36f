// tests/tools/drawings/placement_test.cpp — the chart's arrows are those of the field.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/placement.h"

#include <catch2/catch.hpp>
#include <set>
#include <sstream>

#include "cases/field_materials.h"
#include "cases/read_case.h"
#include "solver/field/field_solver.h"
#include "tests/mesh/gears.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::WithinAbs;

namespace {

std::string with_patterns(const std::string& sun, const std::string& ring) {
  std::string text = small_case;
  const std::string line = "pattern = \"alternating radial\"";
  text.replace(text.find(line), line.size(), sun);
  text.replace(text.find(line), line.size(), ring);
  return text;
}

std::vector<std::vector<std::string>> rows_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(csv);
  for (std::string line; std::getline(lines, line);) {
    rows.emplace_back();
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) rows.back().push_back(cell);
  }
  return rows;
}

/// The chart's column of directions as the keys of a case.
std::string as_directions(const std::vector<std::vector<std::string>>& rows,
                          const std::string& member, int pole_pairs) {
  std::string list;
  int n = 0;
  for (const auto& row : rows) {
    if (row[0] != member) continue;
    list += (n++ > 0 ? ", " : "") + row[4];
  }
  return "pattern = \"directions\"\ndirections_deg = [" + list +
         "]\nmagnets_per_pole_pair = " + std::to_string(n / pole_pairs);
}

/// N·m/m on the three members at a few positions, on the meshes of another case: two meshes of one
/// outline may differ in where Gmsh puts its nodes, and torques with them.
std::vector<double> torques(const Case& c, const Case& meshed) {
  const MeshPlan plan = mesh_plan(meshed.gear, meshed.resolution);
  const FieldSolver solver(
      field_problem(c.gear, member_meshes(meshed.gear, plan), plan, field_materials(c)));
  std::vector<double> all;
  for (const double angle : {5.0, 20.0, 33.0}) {
    const FieldSolution s = solver.solve({.sun = angle * degree, .modulator = 0.0, .ring = 0.0});
    for (const Member m : {Member::sun, Member::modulator, Member::ring})
      all.push_back(s.torque(m));
  }
  return all;
}

}  // namespace

TEST_CASE("placement: a case made of the chart's arrows gives the same torque",
          "[tools][drawings][placement]") {
  const auto& [sun, ring] = GENERATE(table<std::string, std::string>(
      {{"pattern = \"alternating parallel\"", "pattern = \"alternating parallel\""},
       {"pattern = \"halbach\"\nsegments_per_pole_pair = 6",
        "pattern = \"halbach\"\nsegments_per_pole_pair = 4"},
       {"pattern = \"directions\"\ndirections_deg = [10, 80, 170, -100]",
        "pattern = \"alternating parallel\"\n[[ring.odd_magnet]]\nindex = 2\nreversed = true"}}));
  INFO(sun << " and " << ring);
  const Catalogue catalogue;
  const Case first = read_case_text(with_patterns(sun, ring), "first.toml", catalogue);
  const auto rows = rows_of(placement_csv(first.gear));
  const Case second =
      read_case_text(with_patterns(as_directions(rows, "sun", 2), as_directions(rows, "ring", 3)),
                     "second.toml", catalogue);
  const std::vector<double> a = torques(first, first), b = torques(second, first);
  REQUIRE(a.size() == b.size());
  double largest = 0.0, off = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    largest = std::max(largest, std::abs(a[i]));
    off = std::max(off, std::abs(a[i] - b[i]));
  }
  CHECK(largest > 10.0);  // N·m/m: there is something to compare
  // Twelve digits in the table; a reversed magnet is a magnet turned by 180° to round-off.
  CHECK(off < 1e-9 * largest);
}

TEST_CASE("placement: every magnet comes once in the order of assembly, opposite ones in turn",
          "[tools][drawings][placement]") {
  for (const NamedGear& named : gears_of_every_shape()) {
    if (!named.gear.sun) continue;
    INFO(named.name);
    const auto magnets = placement(*named.gear.sun, Member::sun);
    std::set<int> turns;
    for (const PlacedMagnet& m : magnets) turns.insert(m.order);
    CHECK(turns.size() == magnets.size());
    CHECK(*turns.begin() == 1);
    CHECK(*turns.rbegin() == static_cast<int>(magnets.size()));
  }
  const auto alternating =
      placement(arc_rotor(4, 20 * mm, 25 * mm, AlternatingParallel{}), Member::sun);
  CHECK(alternating[0].order == 1);
  CHECK(alternating[4].order == 2);  // across
}

TEST_CASE("placement: the north face has a plain name, and the reference magnet tells it",
          "[tools][drawings][placement]") {
  CHECK(north_face(0.0) == "out");
  CHECK(north_face(pi) == "in");
  CHECK(north_face(pi / 2) == "counter-clockwise");
  CHECK(north_face(-pi / 2) == "clockwise");
  CHECK(north_face(-pi / 3) == "60° clockwise from out");
  PlacedMagnet magnet;
  CHECK(felt_in_gap(magnet) == "push");  // of the sun, north out: like poles repel
  magnet.member = Member::ring;
  CHECK(felt_in_gap(magnet) == "pull");  // the ring's gap lies inside
  magnet.direction = pi / 2;
  CHECK(felt_in_gap(magnet) == "sideways");
}

TEST_CASE("placement: a Halbach ring steps by a full turn per pole pair against the radius",
          "[tools][drawings][placement]") {
  const auto magnets =
      placement(arc_rotor(3, 20 * mm, 25 * mm, SteppedHalbach{6, FluxSide::outward}), Member::sun);
  // Relative to the radius the direction steps by −360°/6 (Halbach, Nucl. Instrum. Methods 169).
  for (std::size_t i = 1; i < magnets.size(); ++i)
    CHECK_THAT(std::remainder(magnets[i].direction - magnets[i - 1].direction + pi / 3, 2 * pi),
               WithinAbs(0.0, 1e-9));
}
