// tests/mesh/shapes_test.cpp — every shape meshes, closes and repeats.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/shape.h"

#include <catch2/catch.hpp>

#include "gears.h"
#include "mesh/arrangement.h"
#include "mesh/check_gear.h"
#include "mesh/mesh_plan.h"
#include "mesh/shapes/sector_pole.h"
#include "mesh/unit_drawing.h"
#include "mesh_checks.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;
using Eigen::Vector2d;

namespace {

bool has_ideal_iron(const Gear& gear, Member member) {
  const auto is_ideal = [](const std::optional<MagnetRotor>& r) {
    return r && r->iron && r->iron->material == ideal_iron_name;
  };
  if (member == Member::sun) return is_ideal(gear.sun);
  if (member == Member::ring) return is_ideal(gear.ring);
  return gear.modulator->material == ideal_iron_name;
}

/// Exact areas of what is drawn, m²: the faces of one sector times the sectors.
std::map<std::string, double> drawn_areas(const Gear& gear, const MeshPlan& plan, Member member) {
  const UnitDrawing unit = unit_drawing(gear, plan, member);
  const Arrangement drawing = arrangement(unit.domain, unit.outlines);
  std::map<std::string, double> areas;
  for (const ArrangementFace& face : drawing.faces)
    if (face.label && face.label->material != ideal_iron_name)
      areas[face.label->part] += unit.n_sectors * area(drawing, face);
  return areas;
}

double area_of(const std::vector<Outline>& outlines, const std::string& part) {
  double sum = 0.0;
  for (const Outline& o : outlines)
    for (const Loop& loop : o.loops)
      if (o.label.part == part) sum += signed_area(loop);
  return sum;
}

}  // namespace

TEST_CASE("shapes: every gear can be drawn, meshes, closes and repeats", "[mesh][shapes]") {
  const NamedGear named = GENERATE(from_range(gears_of_every_shape()));
  INFO(named.name);
  for (const Complaint& c : check_gear(named.gear)) FAIL_CHECK(to_string(c));
  const MeshPlan plan = mesh_plan(named.gear, {});
  const auto meshes = member_meshes(named.gear, plan);
  for (const MemberMesh& mesh : meshes) {
    INFO(name_of(mesh.member));
    check_member_mesh(mesh, has_ideal_iron(named.gear, mesh.member));
    const auto exact = drawn_areas(named.gear, plan, mesh.member);
    auto meshed = part_areas(mesh);
    CHECK(meshed.size() == exact.size());
    // Arcs of edges up to 0.26 rad: φ⁴/480 = 9.5e-6 of the area within the circle.
    for (const auto& [part, drawn] : exact) {
      INFO(part);
      CHECK_THAT(meshed[part], WithinAbs(drawn, 1e-5 * mesh.quality.area));
    }
  }
}

TEST_CASE("shapes: parts of a member have the areas of their formulas", "[mesh][shapes]") {
  Gear gear = standard_gear();
  MagnetRotor& sun = *gear.sun;
  // Tolerances: round-off of sums over arcs and lines.
  sun.shape = ArcMagnets{0.7};
  CHECK_THAT(area_of(body_outlines(sun, 3), "magnet"),
             WithinRel(0.7 * pi * (900 - 576) * mm * mm / 24, 1e-12));
  sun.shape = block(5 * mm, 4 * mm, 27 * mm, 0.1 * mm);
  CHECK_THAT(area_of(body_outlines(sun, 3), "magnet"), WithinRel(20 * mm * mm, 1e-12));
  CHECK_THAT(area_of(body_outlines(sun, 3), "air"), WithinRel(5.2 * 4.2 * mm * mm, 1e-12));
  gear.modulator->shape = RoundBar{6 * mm, 34 * mm};
  CHECK_THAT(area_of(body_outlines(*gear.modulator, 5), "pole piece"),
             WithinRel(9 * pi * mm * mm, 1e-12));
  gear.modulator->shape = sector_pole(pi / 17, pi / 17);
  CHECK_THAT(area_of(body_outlines(*gear.modulator, 5), "pole piece"),
             WithinRel(pi / 17 / 2 * (37 * 37 - 31 * 31) * mm * mm, 1e-12));
}

TEST_CASE("shapes: a spoke has parallel sides between the circles of the band", "[mesh][shapes]") {
  MagnetRotor rotor = arc_rotor(4, 12 * mm, 30 * mm, AlternatingParallel{});
  rotor.shape = SpokeMagnets{5 * mm, "steel"};
  // Strip of half-width a in a circle of radius R: a √(R² − a²) + R² asin(a/R) (integral of the
  // circle's ordinate), right half only.
  const auto strip = [](double R) {
    const double a = 2.5 * mm;
    return a * std::sqrt(R * R - a * a) + R * R * std::asin(a / R);
  };
  CHECK_THAT(area_of(body_outlines(rotor, 1), "magnet"),
             WithinRel(strip(30 * mm) - strip(12 * mm), 1e-12));
}

TEST_CASE("shapes: roundings touch side and circle without a bend", "[mesh][shapes]") {
  Modulator modulator = sectors(17, 31 * mm, 37 * mm);
  SectorPole pole = sector_pole(12 * degree, 9 * degree);
  pole.corner_inner = 0.7 * mm;
  pole.corner_outer = 1.2 * mm;
  const auto in = inner_corner(pole, modulator), out = outer_corner(pole, modulator);
  REQUIRE((in && out));
  const Vector2d a = polar(31 * mm, 6 * degree), b = polar(37 * mm, 4.5 * degree);
  const Vector2d along = (b - a).normalized();
  for (const auto& [corner, rho, radius] :
       {std::tuple{*in, 0.7 * mm, 31 * mm}, {*out, 1.2 * mm, 37 * mm}}) {
    CHECK_THAT((corner.on_side - corner.centre).norm(), WithinRel(rho, 1e-12));
    CHECK_THAT((corner.on_circle - corner.centre).norm(), WithinRel(rho, 1e-12));
    CHECK_THAT(corner.on_circle.norm(), WithinRel(radius, 1e-12));
    CHECK_THAT(along.dot(corner.on_side - corner.centre), WithinAbs(0.0, 1e-15));
    CHECK_THAT(cross(corner.on_circle, corner.centre), WithinAbs(0.0, 1e-15));
    CHECK_THAT(cross(along, corner.on_side - a), WithinAbs(0.0, 1e-15));
  }
}

TEST_CASE("shapes: a rounding takes its known area from a corner", "[mesh][shapes]") {
  // A wide flat ring makes the corner a right angle as nearly as wanted: (1 − π/4) ρ² each.
  Modulator modulator = sectors(2000, 1.0, 1.001);
  SectorPole pole = sector_pole(1e-3, 1e-3);
  modulator.shape = pole;
  const double sharp = area_of(body_outlines(modulator, 0), "pole piece");
  pole.corner_outer = 1e-4;
  modulator.shape = pole;
  const double rounded = area_of(body_outlines(modulator, 0), "pole piece");
  CHECK_THAT(sharp - rounded, WithinRel(2 * (1 - pi / 4) * 1e-8, 1e-3));  // corner off by 5e-4 rad
}

TEST_CASE("shapes: units are the smallest that repeat", "[mesh][shapes]") {
  Gear gear = standard_gear();
  CHECK(bodies_per_sector(gear, Member::sun) == 1);
  BlockMagnets blocks = block(3 * mm, 4 * mm, 27 * mm);
  blocks.turned_to_pattern = true;
  gear.sun->shape = blocks;
  CHECK(bodies_per_sector(gear, Member::sun) == 3);  // six directions, half a turn looks the same
  gear.sun->pattern = SteppedHalbach{5, FluxSide::outward};
  CHECK(bodies_per_sector(gear, Member::sun) == 5);
  gear.sun->pattern = AlternatingParallel{};
  blocks.blocks_per_pole = 3;
  blocks.block_pitch = 8 * degree;
  gear.sun->shape = blocks;
  CHECK(bodies_per_sector(gear, Member::sun) == 3);
  gear.sun->shape = SpokeMagnets{3 * mm, "steel"};
  CHECK(bodies_per_sector(gear, Member::sun) == 1);
}

TEST_CASE("shapes: odd magnets do not change the mesh", "[mesh][shapes]") {
  Gear gear = standard_gear();
  const MemberMesh before = member_meshes(gear, mesh_plan(gear, {}))[0];
  OddMagnet odd;
  odd.index = 5;
  odd.missing = true;
  gear.sun->odd_magnets = {odd};
  const MemberMesh after = member_meshes(gear, mesh_plan(gear, {}))[0];
  CHECK(before.nodes == after.nodes);
}
