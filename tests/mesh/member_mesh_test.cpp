// tests/mesh/member_mesh_test.cpp — meshes of the two gears that everything else is measured on.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/member_mesh.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

#include "gears.h"
#include "mesh/mesh_plan.h"
#include "mesh/quadratic_mesh.h"
#include "mesh_checks.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;
using Eigen::Vector2d;

namespace {

std::vector<MemberMesh> meshes_of(const Gear& gear, double fineness = 1.0) {
  Resolution resolution;
  resolution.fineness = fineness;
  return member_meshes(gear, mesh_plan(gear, resolution));
}

bool same_bits(const MemberMesh& a, const MemberMesh& b) {
  return a.nodes.rows() == b.nodes.rows() && a.nodes == b.nodes &&
         a.triangles.rows() == b.triangles.rows() && a.triangles == b.triangles &&
         a.region == b.region;
}

double ring_area(double inner, double outer) { return pi * (outer * outer - inner * inner); }

}  // namespace

TEST_CASE("member mesh: parts of the standard gear have their areas", "[mesh][member_mesh]") {
  const auto meshes = meshes_of(standard_gear());
  REQUIRE(meshes.size() == 3);
  // A parabola through three points of an arc of φ is off by φ⁴/480 of the sector's area
  // (series); edges here span up to 0.11 rad, so 3e-7.
  const double curved = 3e-7;
  auto sun = part_areas(meshes[0]);
  CHECK_THAT(sun["hub"], WithinRel(ring_area(0, 24 * mm), curved));
  CHECK_THAT(sun["magnet"], WithinRel(ring_area(24 * mm, 30 * mm), curved));
  CHECK_THAT(sun["air"], WithinRel(ring_area(30 * mm, 30.3 * mm), curved * 100));  // thin: of 30²
  auto modulator = part_areas(meshes[1]);
  CHECK_THAT(modulator["pole piece"], WithinRel(ring_area(31 * mm, 37 * mm) / 2, curved));
  auto ring = part_areas(meshes[2]);
  CHECK_THAT(ring["magnet"], WithinRel(ring_area(38 * mm, 44 * mm), curved));
  for (const MemberMesh& mesh : meshes) {
    double sum = 0.0;
    for (const auto& [part, area] : part_areas(mesh)) sum += area;
    CHECK_THAT(mesh.quality.area, WithinRel(sum, 1e-9));  // circles snapped, sums in other order
  }
}

TEST_CASE("member mesh: areas of curved parts converge with the fourth power",
          "[mesh][member_mesh]") {
  const double exact = ring_area(0, 24 * mm);
  double before = 0.0;
  for (double fineness : {1.0, 2.0, 4.0}) {
    auto parts = part_areas(meshes_of(standard_gear(), fineness)[0]);
    const double error = std::abs(parts["hub"] / exact - 1.0);
    if (before > 0.0) CHECK(error < before / 8);  // 16 but for rounding to whole edges
    before = error;
  }
}

TEST_CASE("member mesh: the standard and the ideal-iron gear mesh, close and repeat",
          "[mesh][member_mesh]") {
  for (const Gear& gear : {standard_gear(), ideal_iron_gear()})
    for (const MemberMesh& mesh : meshes_of(gear)) {
      INFO(name_of(mesh.member));
      const bool ideal = gear.modulator->material == ideal_iron_name;
      check_member_mesh(mesh, ideal);
      CHECK(mesh.quality.smallest_angle > 10 * degree);  // wedges of 15° at the axis, else 20°
      CHECK(mesh.quality.smallest_jacobian_ratio > 0.8);
    }
}

TEST_CASE("member mesh: members consist of one sector a magnet or pole piece",
          "[mesh][member_mesh]") {
  const auto meshes = meshes_of(standard_gear());
  CHECK(meshes[0].n_sectors == 24);
  CHECK(meshes[1].n_sectors == 17);
  CHECK(meshes[2].n_sectors == 52);
  CHECK(meshes[0].nodes.rows() == 24 * meshes[0].nodes_per_sector + 1);  // the axis
  CHECK(meshes[0].nodes.bottomRows<1>().norm() == 0.0);
}

TEST_CASE("member mesh: ideal iron is cut out and ends the mesh", "[mesh][member_mesh]") {
  const auto meshes = meshes_of(ideal_iron_gear());
  CHECK_FALSE(meshes[0].inner);
  CHECK(meshes[0].outer);
  CHECK(meshes[1].regions.size() == 1);  // air
  CHECK(meshes[2].inner);
  CHECK_FALSE(meshes[2].outer);
  for (const MemberMesh& mesh : meshes)
    for (const MeshRegion& region : mesh.regions) CHECK(region.material != ideal_iron_name);
  // Air of the modulator: the annulus between the gap circles without half the pole pieces' band.
  const double air = ring_area(36.7 * mm, 42.3 * mm) - ring_area(37 * mm, 42 * mm) / 2;
  CHECK_THAT(meshes[1].quality.area, WithinRel(air, 1e-7));  // edges below 0.08 rad
}

TEST_CASE("member mesh: every magnet lies about its own centre angle", "[mesh][member_mesh]") {
  Gear gear = standard_gear();
  std::get<SteppedHalbach>(gear.ring->pattern).pole_centre =
      GENERATE(PoleCentre::on_segment, PoleCentre::on_joint);
  const MemberMesh mesh = meshes_of(gear)[2];
  std::vector<Vector2d> centre(52, Vector2d::Zero());
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    const MeshRegion& region =
        mesh.regions[static_cast<std::size_t>(mesh.region[static_cast<std::size_t>(t)])];
    if (region.kind != RegionKind::magnet) continue;
    for (int i = 0; i < 3; ++i)
      centre[static_cast<std::size_t>(region.index)] +=
          triangle_area(mesh, t) * mesh.nodes.row(mesh.triangles(t, i)).transpose();
  }
  const double s =
      std::get<SteppedHalbach>(gear.ring->pattern).pole_centre == PoleCentre::on_joint ? 0.5 : 0.0;
  for (int j = 0; j < 52; ++j) {
    const Vector2d& c = centre[static_cast<std::size_t>(j)];
    // Corner averages are exact for straight triangles; curved ones shift the centre a little.
    CHECK_THAT(std::remainder(std::atan2(c.y(), c.x()) - 2 * pi * (j + s) / 52, 2 * pi),
               WithinAbs(0.0, 1e-5));
  }
}

TEST_CASE("member mesh: pole piece 0 lies on +x", "[mesh][member_mesh]") {
  const MemberMesh mesh = meshes_of(standard_gear())[1];
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    const MeshRegion& region =
        mesh.regions[static_cast<std::size_t>(mesh.region[static_cast<std::size_t>(t)])];
    if (region.index != 0) continue;
    const Vector2d x = mesh.nodes.row(mesh.triangles(t, 0)).transpose();
    CHECK(std::abs(std::atan2(x.y(), x.x())) < pi / 34 + 1e-12);
  }
}

TEST_CASE("member mesh: the same gear gives the same bits", "[mesh][member_mesh]") {
  const auto first = meshes_of(standard_gear());
  meshes_of(ideal_iron_gear());  // something else in between
  const auto second = meshes_of(standard_gear());
  for (std::size_t i = 0; i < first.size(); ++i) CHECK(same_bits(first[i], second[i]));
}

TEST_CASE("member mesh: threads take turns and get the same bits", "[mesh][member_mesh]") {
  const auto alone = meshes_of(standard_gear());
  std::vector<std::vector<MemberMesh>> together(2);
  std::vector<std::thread> threads;
  for (auto& result : together)
    threads.emplace_back([&result] { result = meshes_of(standard_gear()); });
  for (std::thread& t : threads) t.join();
  for (const auto& result : together)
    for (std::size_t i = 0; i < alone.size(); ++i) CHECK(same_bits(alone[i], result[i]));
}

TEST_CASE("member mesh: twice the size is twice every coordinate", "[mesh][member_mesh]") {
  Gear large = standard_gear();
  const auto twice = [](auto&... lengths) { ((lengths *= 2.0), ...); };
  twice(large.sun->inner_radius, large.sun->outer_radius, large.sun->iron->outer_radius,
        large.modulator->inner_radius, large.modulator->outer_radius, large.ring->inner_radius,
        large.ring->outer_radius);
  const auto a = meshes_of(standard_gear()), b = meshes_of(large);
  for (std::size_t i = 0; i < a.size(); ++i) {
    REQUIRE(a[i].nodes.rows() == b[i].nodes.rows());
    CHECK(b[i].nodes == 2.0 * a[i].nodes);  // a power of two changes no mantissa
  }
}

TEST_CASE("member mesh: finer meshes have shorter edges everywhere", "[mesh][member_mesh]") {
  const auto coarse = meshes_of(standard_gear()), fine = meshes_of(standard_gear(), 2.0);
  for (std::size_t i = 0; i < coarse.size(); ++i) {
    const double ratio = static_cast<double>(fine[i].triangles.rows()) /
                         static_cast<double>(coarse[i].triangles.rows());
    INFO(name_of(coarse[i].member) << " " << ratio);
    CHECK(ratio > 2.5);  // 4 but for the single layer beside a gap
    CHECK(ratio < 6.0);
  }
}

TEST_CASE("member mesh: the Jacobian's bounds hold inside a curved triangle",
          "[mesh][member_mesh]") {
  // A quarter disc as one triangle: area of the parabola's segment by Archimedes, 2/3 c h.
  const double h = 1.0 - std::sqrt(0.5), c = std::sqrt(2.0);
  const Vector2d middle = Vector2d(1.0, 1.0).normalized();
  const std::array<Vector2d, 6> x{Vector2d(0, 0),   Vector2d(1, 0), Vector2d(0, 1),
                                  Vector2d(0.5, 0), middle,         Vector2d(0, 0.5)};
  double area = 0.0;
  for (double b : jacobian_bounds(x)) area += b / 12;
  CHECK_THAT(area, WithinRel(0.5 + 2.0 / 3.0 * c * h, 1e-14));  // round-off
}
