// tests/solver/rod_test.cpp — a magnetised rod: its own field, and its torque in an applied one.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/field/field_solver.h"
#include "solver/post/flux_density.h"
#include "solver/post/stress.h"
#include "tests/analytic/closed_forms.h"
#include "tests/support/magnet_rod.h"

using namespace lodegear;

TEST_CASE("magnetised rod: half the remanence inside, a dipole outside", "[solver][analytic]") {
  for (double mu_rec : {1.0, 1.05}) {
    const FieldSolver solver(magnet_rod(24, mu_rec, {0, 0}));
    FieldSolution s = solver.solve({.sun = 0.4});
    solver.fill_potentials(s);
    const FluxProbe probe(solver.problem());
    const Eigen::Rotation2Dd turn(0.4);
    for (const Eigen::Vector2d& x : {Eigen::Vector2d(0.004, 0.003), Eigen::Vector2d(0.012, 0.001),
                                     Eigen::Vector2d(-0.003, 0.013)}) {
      const Eigen::Vector2d exact = turn * magnetised_rod(0.010, 1.2, mu_rec, turn.inverse() * x);
      CHECK((probe.at(s, x).value() - exact).norm() < 3e-4);  // h/r = 1/24, order h²
    }
  }
}

TEST_CASE("magnetised rod: it turns towards an applied field", "[solver][analytic]") {
  // T = (B_r/µ0) π a² B_0 sin: 150 N·m/m at 90°, 1.2 T, 0.5 T, 10 mm.
  const FieldSolver solver(magnet_rod(24, 1.0, {0.0, 0.5}));
  for (double angle : {0.0, 0.6}) {
    FieldSolution s = solver.solve({.sun = angle});
    solver.fill_potentials(s);
    const MemberMesh& mesh = solver.problem().members[0].mesh;
    std::vector<bool> magnet;
    for (int region : mesh.region) magnet.push_back(region == 0);
    const double exact = rod_torque(0.010, 1.2, 0.5, pi / 2 - angle);
    const double shell = body_load(mesh, s.a[0], with_air_around(mesh, magnet, 2)).torque;
    const double band = band_torque(mesh, s.a[0], 0.010, 0.016);
    INFO("shell " << shell << ", band " << band << " of " << exact << " N·m/m");
    CHECK(shell == Approx(exact).epsilon(1e-3));  // B of order h²
    CHECK(band == Approx(exact).epsilon(1e-3));
  }
}
