// tests/solver/coupling_test.cpp — two rings through a gap, and a cylinder in a field: closed
// forms. SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/field/field_solver.h"
#include "solver/post/flux_density.h"
#include "solver/post/stress.h"
#include "tests/analytic/closed_forms.h"
#include "tests/support/polar_mesh.h"

using namespace lodegear;

namespace {

RegionLaw magnet_law(Magnetisation m, double remanence, double mu_rec) {
  return {Reluctivity::constant(nu0 / mu_rec), remanence, m};
}

MeshRegion magnet_region() { return {RegionKind::magnet, "m", "magnet", 0}; }
MeshRegion air_region() { return {RegionKind::air, "air", "air", -1}; }

// Continuous Halbach cylinders 20–30 mm (outward) and 32–45 mm (inward) in air, p pole pairs.
FieldProblem halbach_cylinders(int p, int n) {
  FieldProblem problem;
  FieldMember sun, ring;
  sun.mesh = polar_mesh(Member::sun,
                        joined(joined(spaced(0.016, 0.020, n), spaced(0.020, 0.030, 2 * n)),
                               spaced(0.030, 0.0306, 1)),
                        40 * n, 0.0, {air_region(), magnet_region()},
                        [n](int layer, int) { return layer >= n && layer < 3 * n ? 1 : 0; });
  ring.mesh = polar_mesh(Member::ring,
                         joined(joined(spaced(0.0314, 0.032, 1), spaced(0.032, 0.045, 2 * n)),
                                spaced(0.045, 0.052, n)),
                         40 * n, 0.0, {air_region(), magnet_region()},
                         [n](int layer, int) { return layer >= 1 && layer < 1 + 2 * n ? 1 : 0; });
  sun.laws = {{}, magnet_law({Magnetisation::Law::turning, 0, 1.0 - p, 1}, 1.2, 1.0)};
  ring.laws = {{}, magnet_law({Magnetisation::Law::turning, 0, 1.0 + p, 1}, 1.1, 1.0)};
  sun.inside = Beyond::open_air;
  sun.outside = Beyond::gap;
  ring.inside = Beyond::gap;
  ring.outside = Beyond::open_air;
  problem.members = {sun, ring};
  problem.gaps = {{0.0306, 0.0314, 24}};
  return problem;
}

}  // namespace

TEST_CASE("coupling: two continuous Halbach cylinders carry the torque of the closed form",
          "[solver][analytic]") {
  for (int p : {1, 2}) {
    const FieldSolver solver(halbach_cylinders(p, 6));
    for (double ahead : {0.6 / p, 0.5 * pi / p}) {
      const FieldSolution s = solver.solve({.sun = ahead});
      const double exact = halbach_cylinders_torque(p, 0.020, 0.030, 1.2, 0.032, 0.045, 1.1, ahead);
      INFO("p " << p << " computed " << s.torque_sun << " exact " << exact);
      CHECK(s.torque_sun == Approx(exact).epsilon(1e-5));  // smooth field, h/r = 1/38, order h⁴
      CHECK(s.torque_ring == Approx(-s.torque_sun).epsilon(1e-12));
    }
  }
}

TEST_CASE("coupling: stress in a band and slope of the energy agree with the harmonics",
          "[solver][torque]") {
  const FieldSolver solver(halbach_cylinders(2, 6));
  FieldSolution s = solver.solve({.sun = 0.3});
  solver.fill_potentials(s);
  const double band = band_torque(solver.problem().members[0].mesh, s.a[0], 0.030, 0.0306);
  CHECK(band == Approx(s.torque_sun).epsilon(1e-3));  // B of one layer of elements, order h²
  const double h = 1e-3;
  const double before = solver.solve({.sun = 0.3 - h}).functional;
  const double after = solver.solve({.sun = 0.3 + h}).functional;
  // T = −∂(minimised energy)/∂θ; central difference errs by (p h)²/6.
  CHECK(-(after - before) / (2 * h) == Approx(s.torque_sun).epsilon(1e-6));
}

TEST_CASE("coupling: turning everything together changes nothing", "[solver][symmetry]") {
  const FieldSolver solver(halbach_cylinders(2, 3));
  const double here = solver.solve({.sun = 0.3}).torque_sun;
  const double there = solver.solve({.sun = 0.3 + 1.234, .ring = 1.234}).torque_sun;
  CHECK(there == Approx(here).epsilon(1e-11));  // round-off
}

// Largest error of B at three points about an iron cylinder, radius 10 mm, in a field of 1 T.
static double cylinder_error(int n, double mu_r, double angle) {
  FieldMember member;
  // The middle is a small hole, whose effect is of order (r_hole/a)² = 1e-8.
  member.mesh = polar_mesh(
      Member::sun,
      joined(joined({1e-6, 3e-6, 1e-5, 3e-5, 1e-4, 3e-4, 1e-3}, spaced(0.001, 0.010, n)),
             spaced(0.010, 0.020, n)),
      8 * n, 0.0, {{RegionKind::steel, "s", "bar", 0}, air_region()},
      [n](int layer, int) { return layer < 6 + n ? 0 : 1; }, false);
  member.laws = {{Reluctivity::constant(nu0 / mu_r), 0.0, {}}, {}};
  member.inside = Beyond::ideal_iron;
  FieldProblem problem;
  problem.members = {member};
  problem.applied_field = {1.0, 0.0};
  const FieldSolver solver(problem);
  FieldSolution s = solver.solve({.sun = angle});
  solver.fill_potentials(s);
  const FluxProbe probe(solver.problem());
  double worst = 0.0;
  for (const Eigen::Vector2d& x : {Eigen::Vector2d(0.004, 0.003), Eigen::Vector2d(0.012, 0.001),
                                   Eigen::Vector2d(-0.003, 0.017)})
    worst =
        std::max(worst, (probe.at(s, x).value() - cylinder_in_field(0.010, mu_r, 1.0, x)).norm());
  return worst;
}

TEST_CASE("cylinder in a uniform field: 2 mu_r/(mu_r+1) inside, a dipole outside",
          "[solver][analytic]") {
  for (double angle : {0.0, 0.7}) {  // both see the same mesh differently
    const double coarse = cylinder_error(8, 1000, angle), fine = cylinder_error(32, 1000, angle);
    INFO("errors " << coarse << " " << fine);
    CHECK(fine < 2e-4);                         // h/r = 1/32, order h²
    CHECK(std::log2(coarse / fine) / 2 > 1.7);  // B of P2 gains two powers of h
  }
}
