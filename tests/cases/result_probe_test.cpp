// tests/cases/result_probe_test.cpp — flux density wherever a Hall probe can be held.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "cases/probe.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "solver/gap/gap_field.h"
#include "tests/support/small_case.h"

using namespace lodegear;

namespace {

struct Solved {
  PreparedCase prepared;
  FieldSolution solution;
};

Solved solved(const std::string& text, const Position& position) {
  Solved s{prepared_case(read_case_text(text, "case")), {}};
  s.solution = s.prepared.solver->solve(position);
  s.prepared.solver->fill_potentials(s.solution);
  return s;
}

Eigen::Vector2d on_circle(double r, double angle) {
  return {r * std::cos(angle), r * std::sin(angle)};
}

}  // namespace

TEST_CASE("probe: inside a gap it is the gap's own harmonics", "[cases][probe]") {
  const Solved s = solved(small_case, {.sun = 0.1, .modulator = 0.2, .ring = -0.1});
  const Probe probe(s.prepared.solver->problem(), s.solution);
  const GapField& gap = s.solution.gaps.front();
  const double r = 0.5 * (gap.r_inner + gap.r_outer);
  const FluxHarmonics harmonics = flux_harmonics(gap, r);
  for (double angle = 0.0; angle < 6.2; angle += 0.7) {
    const Eigen::Vector2d polar = flux_density(harmonics, angle);
    const auto b = probe.flux_density_at(on_circle(r, angle));
    REQUIRE(b);
    const double radial = (*b)[0] * std::cos(angle) + (*b)[1] * std::sin(angle);
    CHECK(radial == Approx(polar[0]).margin(1e-12));  // round-off of 1 T
  }
}

TEST_CASE("probe: the air outside carries on what the last circle has", "[cases][probe]") {
  const Solved s = solved(small_case, {});
  const FieldProblem& problem = s.prepared.solver->problem();
  const Probe probe(problem, s.solution);
  const double r = problem.members.back().mesh.outer->radius;
  // Potential and so the radial field are continuous across the circle; the elements and the
  // orders differ by the error of a coarse mesh, a few per cent of the 0.3 T there.
  for (double angle = 0.05; angle < 6.2; angle += 0.41) {
    const auto inside = probe.flux_density_at(on_circle(r * (1 - 2e-3), angle));
    const auto outside = probe.flux_density_at(on_circle(r * (1 + 2e-3), angle));
    REQUIRE(inside);
    REQUIRE(outside);
    CHECK((*inside - *outside).norm() < 0.05);
  }
}

TEST_CASE("probe: a Halbach ring in the bore has the field of the textbook", "[cases][probe]") {
  // B = B_r ln(r_o/r_i) in the bore of a continuous Halbach ring of one pole pair with µ_rec = 1.
  // Source: Halbach, Nucl. Instrum. Methods 169 (1980) 1.
  const char* ring = R"([gear]
ring_pole_pairs = 1
stack_length_mm = 20
[ring.magnets]
grade = "plain"
inner_radius_mm = 10
outer_radius_mm = 20
pattern = "continuous halbach"
[materials.plain]
kind = "magnet"
remanence_T = 1.0
mu_rec = 1.0
)";
  const Solved s = solved(ring, {});
  const Probe probe(s.prepared.solver->problem(), s.solution);
  const double wanted = std::log(2.0);
  for (const Eigen::Vector2d& x :
       {Eigen::Vector2d(0, 0), Eigen::Vector2d(0.004, 0.003), Eigen::Vector2d(-0.0095, 0)}) {
    const auto b = probe.flux_density_at(x);
    REQUIRE(b);
    CHECK(b->norm() == Approx(wanted).epsilon(1e-4));  // default mesh
  }
  const auto outside = probe.flux_density_at({0.025, 0.01});
  REQUIRE(outside);
  CHECK(outside->norm() < 1e-4);  // no field outside, same source; default mesh
}

TEST_CASE("probe: an applied field adds to that of magnets that are as permeable as air",
          "[cases][probe]") {
  const std::string ring = R"([gear]
ring_pole_pairs = 2
stack_length_mm = 20
[ring.magnets]
grade = "plain"
inner_radius_mm = 10
outer_radius_mm = 20
[mesh]
fineness = 0.5
[materials.plain]
kind = "magnet"
remanence_T = 1.0
mu_rec = 1.0
)";
  const Solved without = solved(ring, {.ring = 0.3});
  const Solved with =
      solved(ring + "[field]\napplied_T = 0.2\napplied_direction_deg = 90\n", {.ring = 0.3});
  const Probe before(without.prepared.solver->problem(), without.solution);
  const Probe after(with.prepared.solver->problem(), with.solution);
  for (const Eigen::Vector2d& x :
       {Eigen::Vector2d(0.001, 0.002), Eigen::Vector2d(0.015, 0), Eigen::Vector2d(0.05, -0.1)}) {
    const auto a = before.flux_density_at(x), b = after.flux_density_at(x);
    REQUIRE(a);
    REQUIRE(b);
    // All linear, so exact but for the curvature of the edges.
    CHECK((*b - *a - Eigen::Vector2d(0.0, 0.2)).norm() < 1e-6);
  }
}

TEST_CASE("circle points: evenly spaced, counter-clockwise from +x", "[cases][probe]") {
  const auto points = circle_points(2.0, 4);
  REQUIRE(points.size() == 4);
  CHECK((points[0] - Eigen::Vector2d(2, 0)).norm() < 1e-15);
  CHECK((points[1] - Eigen::Vector2d(0, 2)).norm() < 1e-15);
}
