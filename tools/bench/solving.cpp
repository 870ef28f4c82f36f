// tools/bench/solving.cpp — resolutions by gear and accuracy, set-up in timed steps.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/bench/solving.h"

#include <cmath>
#include <map>
#include <stdexcept>

#include "cases/field_materials.h"
#include "cases/kept_parts.h"
#include "cases/run_case.h"
#include "cases/slip_figures.h"
#include "cases/text_table.h"
#include "materials/constants.h"
#include "mesh/ladder.h"
#include "mesh/mesh_plan.h"
#include "solver/motion/positions.h"

namespace lodegear::bench {

std::vector<NamedPath> paths() {
  NamedPath fast{"fast", {}}, reference{"reference", {}};
  fast.options.path = SolverPathChoice::fast;
  reference.options.path = SolverPathChoice::reference;
  return {fast, reference};
}

std::string name_of(Accuracy accuracy) {
  return accuracy == Accuracy::quarter_per_cent ? "0.25 %" : "0.1 %";
}

Resolution rung_with_orders(const Gear& gear, double level, int inner, int outer) {
  Resolution resolution = lodegear::resolution_for(gear, level, false);
  if (inner > 0) resolution.orders_inner_gap = inner;
  if (outer > 0) resolution.orders_outer_gap = outer;
  return resolution;
}

Resolution resolution_for(const std::string& name, const Gear& gear, Accuracy accuracy) {
  // Of vat_stirrer level 0 is off by 0.33 % at its worst position.
  if (name == "vat_stirrer") return rung_with_orders(gear, 1.0, 0, 0);
  return accuracy == Accuracy::quarter_per_cent ? rung_with_orders(gear, -1.0, 28, 36)
                                                : rung_with_orders(gear, 0.2, 32, 40);
}

std::string text_of(const MeshPlan& plan) {
  std::string text = "fineness " + significant(plan.resolution.fineness, 2) + "; K";
  for (const GapAnnulus& gap : plan.gaps) text += " " + std::to_string(gap.orders);
  return text;
}

std::vector<MemberMesh> meshes_of(const Case& c, const MeshPlan& plan, KeptParts* kept) {
  return member_meshes(c.gear, plan, kept ? &kept->meshes : nullptr);
}

std::unique_ptr<FieldSolver> solver_of(const Case& c, std::vector<MemberMesh> meshes,
                                       const MeshPlan& plan, const SolverOptions& options,
                                       KeptParts* kept) {
  FieldProblem problem = field_problem(c.gear, std::move(meshes), plan, field_materials(c));
  problem.applied_field = c.applied_field;
  return std::make_unique<FieldSolver>(std::move(problem), options,
                                       kept ? &kept->members : nullptr);
}

SetUp set_up(const Case& c, const Resolution& resolution, const SolverOptions& options,
             KeptParts* kept) {
  SetUp result;
  std::vector<MemberMesh> meshes;
  result.meshes = cost_of([&] {
    result.plan = mesh_plan(c.gear, resolution);
    meshes = meshes_of(c, result.plan, kept);
  });
  result.condensing =
      cost_of([&] { result.solver = solver_of(c, std::move(meshes), result.plan, options, kept); });
  return result;
}

std::vector<Position> slip_curve_positions(const Case& c, int n) {
  return slip_positions(pole_counts(c.gear), Member::sun, n, start_position(c.gear));
}

PerMember torques(const FieldSolution& solution) {
  if (!solution.summary.converged) throw std::runtime_error(solution.summary.message);
  return {solution.torque_sun, solution.torque_modulator, solution.torque_ring};
}

PerMember slip_torque_of_three(const Case& c, const FieldSolver& solver) {
  constexpr int steps_of_15_degrees = 24;
  const std::vector<Position> curve = slip_curve_positions(c, steps_of_15_degrees);
  SolverState state;
  const PerMember before = torques(solver.solve(curve[5], state));
  const PerMember middle = torques(solver.solve(curve[6], state));
  const PerMember after = torques(solver.solve(curve[7], state));
  PerMember peak{};
  for (std::size_t m = 0; m < peak.size(); ++m) {
    const double slope = 0.5 * (after[m] - before[m]);
    const double bend = after[m] - 2 * middle[m] + before[m];
    peak[m] = std::abs(middle[m] - 0.5 * slope * slope / bend);
  }
  return peak;
}

}  // namespace lodegear::bench
