// tests/gears/torque_routes_test.cpp — independent ways to the torque of a saturated gear agree.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "solver/post/stress.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;

namespace {

const FieldSolver& saturated_gear() {
  static const FieldSolver solver =
      gear_solver(standard_gear(), {1.30, 1.05, peer_steel()}, Resolution{1.0, 100, 100});
  return solver;
}

const MemberMesh& mesh_of(int member) {
  return saturated_gear().problem().members[static_cast<std::size_t>(member)].mesh;
}

std::vector<bool> triangles_of(const MemberMesh& mesh, RegionKind kind) {
  std::vector<bool> flags;
  for (int region : mesh.region)
    flags.push_back(mesh.regions[static_cast<std::size_t>(region)].kind == kind);
  return flags;
}

BodyLoad pole_piece_load(const FieldSolution& s) {
  const MemberMesh& mesh = mesh_of(1);
  return body_load(mesh, s.a[1], with_air_around(mesh, triangles_of(mesh, RegionKind::steel), 1));
}

}  // namespace

TEST_CASE("torque routes: the slope of the energy is the torque of the harmonics",
          "[gears][torque]") {
  // T = −∂/∂θ of the minimised energy (virtual work; Jackson, Classical Electrodynamics, 3rd ed.,
  // §5.16). Richardson's central difference errs by order (p h)⁴.
  const FieldSolver& solver = saturated_gear();
  const Position here{0.30, 0.02, 0.01};
  const FieldSolution s = solver.solve(here);
  for (Member m : {Member::sun, Member::modulator, Member::ring}) {
    const auto energy = [&](double by) {
      Position p = here;
      (m == Member::sun ? p.sun : m == Member::modulator ? p.modulator : p.ring) += by;
      return solver.solve(p).functional;
    };
    const double h = 0.02 / (m == Member::sun ? 4 : m == Member::modulator ? 17 : 13);
    const double torque =
        -(8 * (energy(h) - energy(-h)) - energy(2 * h) + energy(-2 * h)) / (12 * h);
    INFO(name_of(m));
    CHECK(torque == Approx(s.torque(m)).epsilon(1e-6));  // the accuracy promised
  }
}

TEST_CASE("torque routes: stress in the bands and around the pole pieces agrees",
          "[gears][torque]") {
  const FieldSolver& solver = saturated_gear();
  FieldSolution s = solver.solve({.sun = 20 * degree});
  solver.fill_potentials(s);
  const double inner = band_torque(mesh_of(0), s.a[0], 30 * mm, mesh_of(0).outer->radius);
  const double outer = -band_torque(mesh_of(2), s.a[2], mesh_of(2).inner->radius, 38 * mm);
  const BodyLoad poles = pole_piece_load(s);
  INFO("band " << inner << ", " << outer << "; pole pieces " << poles.torque);
  CHECK(inner == Approx(s.torque_sun).epsilon(1e-3));  // B is of order h² in the bands
  CHECK(outer == Approx(s.torque_ring).epsilon(1e-3));
  CHECK(poles.torque == Approx(s.torque_modulator).epsilon(1e-3));
  // Three routes that share no integral: sum zero is evidence here.
  CHECK(std::abs(inner + outer + poles.torque) < 1e-3 * std::abs(poles.torque));
}

TEST_CASE("torque routes: the pulls on the single pole pieces add up to what the gaps say",
          "[gears][force]") {
  const FieldSolver& solver = saturated_gear();
  FieldSolution s = solver.solve({.sun = 20 * degree});
  solver.fill_potentials(s);
  const MemberMesh& mesh = mesh_of(1);
  Eigen::Vector2d sum(0, 0);
  double sizes = 0.0, torque = 0.0;
  for (int piece = 0; piece < 17; ++piece) {
    std::vector<bool> flags;
    for (int r : mesh.region) {
      const MeshRegion& region = mesh.regions[static_cast<std::size_t>(r)];
      flags.push_back(region.kind == RegionKind::steel && region.index == piece);
    }
    const BodyLoad load = body_load(mesh, s.a[1], with_air_around(mesh, flags, 1));
    sum += load.force;
    sizes += load.force.norm();
    torque += load.torque;
  }
  const Eigen::Vector2d from_gaps = gap_force(s.gaps[1]) - gap_force(s.gaps[0]);
  INFO(sum.transpose() << " against " << from_gaps.transpose() << ", sizes " << sizes);
  CHECK((sum - from_gaps).norm() < 1e-3 * sizes);  // stress of order h², net of large pulls
  CHECK(torque == Approx(s.torque_modulator).epsilon(1e-3));
}
