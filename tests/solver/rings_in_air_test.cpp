// tests/solver/rings_in_air_test.cpp — one ring in open air against textbook fields.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/field/field_solver.h"
#include "solver/post/flux_density.h"
#include "tests/analytic/closed_forms.h"
#include "tests/support/polar_mesh.h"

using namespace lodegear;

// A ring of magnets R1..R2 in open air, p pole pairs, magnet i of 2p covering its pole.
static FieldProblem ring_problem(const std::vector<double>& radii, int first_magnet_layer,
                                 int end_magnet_layer, int cells, int p, const Magnetisation& base,
                                 double remanence, double mu_rec, bool open_inner = true) {
  std::vector<MeshRegion> regions = {{RegionKind::air, "air", "air", -1}};
  FieldMember member;
  member.laws.push_back({});
  const int n_magnets = base.law == Magnetisation::Law::radial ? 2 * p : 1;
  for (int i = 0; i < n_magnets; ++i) {
    regions.push_back({RegionKind::magnet, "m", "magnet", i});
    RegionLaw law;
    law.remanence = remanence;
    law.reluctivity = Reluctivity::constant(nu0 / mu_rec);
    law.magnetisation = base;
    if (i % 2 == 1) law.magnetisation.strength = -1;
    member.laws.push_back(law);
  }
  member.mesh = polar_mesh(
      Member::sun, radii, cells, n_magnets > 1 ? -pi / n_magnets : 0.0, regions,
      [=](int layer, int cell) {
        const bool magnet = layer >= first_magnet_layer && layer < end_magnet_layer;
        return magnet ? 1 + cell * n_magnets / cells : 0;
      },
      open_inner);
  member.inside = open_inner ? Beyond::open_air : Beyond::ideal_iron;
  member.outside = Beyond::open_air;
  FieldProblem problem;
  problem.members.push_back(std::move(member));
  return problem;
}

static Eigen::Vector2d polar_at(const FieldProblem& problem, const FieldSolution& solution,
                                double r, double t) {
  const FluxProbe probe(problem);
  const auto b = probe.at(solution, r * Eigen::Vector2d(std::cos(t), std::sin(t)));
  REQUIRE(b);
  return polar_components(*b, t);
}

TEST_CASE("ring in air: a continuous Halbach ring converges at the element's order",
          "[solver][analytic]") {
  const int p = 4;
  Magnetisation halbach{Magnetisation::Law::turning, 0.0, 1.0 - p, 1.0};
  std::vector<double> errors;
  for (int n : {2, 4, 8}) {
    const auto radii = joined(joined(spaced(0.015, 0.020, n), spaced(0.020, 0.030, 2 * n)),
                              spaced(0.030, 0.040, 2 * n));
    const FieldSolver solver(ring_problem(radii, n, 3 * n, 24 * n, p, halbach, 1.2, 1.0));
    FieldSolution solution = solver.solve({});
    REQUIRE(solution.summary.converged);
    solver.fill_potentials(solution);
    double worst = 0.0;
    for (double r : {0.0175, 0.033, 0.036})
      for (double t = 0.01; t < 2 * pi / p; t += 0.05) {
        const Eigen::Vector2d exact =
            ring_in_air(continuous_halbach(p, 1.2, true), 0.020, 0.030, r, t);
        worst = std::max(worst, (polar_at(solver.problem(), solution, r, t) - exact).norm());
      }
    errors.push_back(worst);
  }
  INFO("errors " << errors[0] << " " << errors[1] << " " << errors[2]);
  CHECK(std::log2(errors[0] / errors[1]) > 1.8);  // B of P2 gains two powers of h
  CHECK(std::log2(errors[1] / errors[2]) > 1.8);
  CHECK(errors[2] < 1e-3);
}
