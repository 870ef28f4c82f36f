// tests/cases/loss_map_test.cpp — maps over the triangles agree with the figures of the parts.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/LU>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "case_texts.h"
#include "cases/losses_of_case.h"
#include "cases/magnets_of_case.h"
#include "cases/run_case.h"
#include "materials/constants.h"
#include "solver/fem/triangle.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

/// Every way to lose: a solid ring, sheets, insulated magnets that lie across the borders of
/// sectors, a can; or solid pole pieces. On a coarse mesh: sums agree on any.
std::string losing_case(const std::string& poles) {
  return R"([gear]
sun_pole_pairs = 2
pole_pieces = 7
ring_pole_pairs = 5
stack_length_mm = 20
[sun.hub]
material = "S235"
[sun.magnets]
grade = "N42"
inner_radius_mm = 20
outer_radius_mm = 25
[modulator]
material = ")" +
         poles + R"("
inner_radius_mm = 28
outer_radius_mm = 34
[ring.magnets]
grade = "N42"
inner_radius_mm = 35
outer_radius_mm = 40
[[sleeve]]
gap = "inner"
material = "stainless-316"
inner_radius_mm = 26
outer_radius_mm = 27
[running]
input_speed_rpm = 1500
[mesh]
fineness = 0.5
)";
}

/// m², with its curved sides.
double area_of(const MemberMesh& mesh, int triangle) {
  Eigen::Matrix<double, 2, 6> x;
  for (int i = 0; i < 6; ++i) x.col(i) = mesh.nodes.row(mesh.triangles(triangle, i)).transpose();
  double area = 0.0;
  for (const TrianglePoint& q : triangle_quadrature())
    area += q.weight * (x * shape_gradients(q.xi, q.eta)).determinant();
  return area;
}

/// W of the triangles of a member, or of those of one part.
double sum(const CaseResult& gear, const TriangleNumbers& density, std::size_t m,
           const std::string& part = {}) {
  const FieldMember& member = gear.solver->problem().members[m];
  double watts = 0.0;
  for (std::size_t t = 0; t < density[m].size(); ++t)
    if (part.empty() || member.region(static_cast<int>(t)).part == part)
      watts += density[m][t] * area_of(member.mesh, static_cast<int>(t));
  return watts * gear.stack_length;
}

}  // namespace

TEST_CASE("loss map: over the triangles it sums up to the losses of all parts",
          "[cases][losses][slow]") {
  for (const char* poles : {"M470-50A", "S235"}) {
    INFO("pole pieces of " << poles);
    const Case c = read(losing_case(poles));
    const CaseResult gear = bare_result(c, prepared_case(c));
    const SolvedCycle cycle = solved_cycle(gear, pi / 4, 1);
    REQUIRE(cycle.converged);
    TriangleNumbers density;
    const auto parts = losses_by_part(gear, cycle, 200.0, {}, &density);
    double of_parts = 0.0;
    for (const PartLoss& part : parts) of_parts += part.loss.total();
    double of_map = 0.0;
    for (std::size_t m = 0; m < density.size(); ++m) of_map += sum(gear, density, m);
    CHECK(of_parts > 0.0);
    CHECK_THAT(of_map, WithinRel(of_parts, 1e-9));  // round-off
    const auto modulator = std::find_if(parts.begin(), parts.end(), [](const PartLoss& part) {
      return part.loss.part == "modulator";
    });
    REQUIRE(modulator != parts.end());
    CHECK_THAT(sum(gear, density, 1, "pole piece"), WithinRel(modulator->loss.total(), 1e-9));
    const FieldMember& member = gear.solver->problem().members[1];
    // What is lost nowhere has no density.
    for (std::size_t t = 0; t < density[1].size(); ++t)
      if (member.region(static_cast<int>(t)).kind == RegionKind::air) CHECK(density[1][t] == 0.0);
  }
}

TEST_CASE(
    "magnet margins: the worst triangle is the margin of the magnets, and a cycle's the worst "
    "of its positions",
    "[cases][magnets][slow]") {
  const Case c = read(losing_case("M470-50A"));
  const CaseResult gear = bare_result(c, prepared_case(c));
  const SolvedCycle cycle = solved_cycle(gear, pi / 4, 1);
  REQUIRE(cycle.solutions.size() > 1);
  const FieldProblem& problem = gear.solver->problem();
  const TriangleNumbers whole = magnet_margins(c, problem, cycle.solutions);
  const auto least = [](double a, double b) {
    return std::isnan(a) ? b : std::isnan(b) ? a : std::min(a, b);
  };
  TriangleNumbers worst;
  for (const FieldSolution& s : cycle.solutions) {
    const TriangleNumbers here = magnet_margins(c, problem, {s});
    if (worst.empty()) worst = here;
    for (std::size_t m = 0; m < worst.size(); ++m)
      for (std::size_t t = 0; t < worst[m].size(); ++t)
        worst[m][t] = least(worst[m][t], here[m][t]);
  }
  for (const std::size_t m : {0U, 2U}) {
    OpposingField field = opposing_field(problem.members[m]);
    for (const FieldSolution& s : cycle.solutions) add_position(problem.members[m], s.a[m], field);
    const MagnetInUse& magnet = c.magnets.begin()->second;
    const auto known =
        demagnetisation(field, magnet.material, magnet.temperature, magnet.temperature);
    REQUIRE(known);
    double smallest = 1.0;
    for (std::size_t t = 0; t < whole[m].size(); ++t) {
      const bool in_magnet =
          problem.members[m].region(static_cast<int>(t)).kind == RegionKind::magnet;
      CHECK(std::isnan(whole[m][t]) != in_magnet);
      if (!in_magnet) continue;
      CHECK(whole[m][t] == worst[m][t]);
      smallest = least(smallest, whole[m][t]);
    }
    CHECK_THAT(smallest, WithinAbs(known->margin, 1e-12));  // round-off alone
  }
}
