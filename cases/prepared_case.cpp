// cases/prepared_case.cpp — meshes and solver of a case, and the field at one position.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdexcept>

#include "cases/axial.h"
#include "cases/field_materials.h"
#include "cases/kept_parts.h"
#include "cases/run_case.h"
#include "cases/slip_figures.h"

namespace lodegear {

PreparedCase prepared_case(const Case& c, KeptParts* kept) {
  return prepared_case(c, c.resolution, {}, kept);
}

PreparedCase prepared_case(const Case& c, const Resolution& resolution,
                           const SolverOptions& options, KeptParts* kept) {
  PreparedCase prepared;
  prepared.plan = mesh_plan(c.gear, resolution);
  std::vector<MemberMesh> meshes =
      member_meshes(c.gear, prepared.plan, kept ? &kept->meshes : nullptr);
  for (const MemberMesh& mesh : meshes)
    prepared.meshes.push_back({mesh.member, static_cast<int>(mesh.nodes.rows()),
                               static_cast<int>(mesh.triangles.rows()), mesh.n_sectors,
                               mesh.quality});
  FieldProblem problem =
      field_problem(c.gear, std::move(meshes), prepared.plan, field_materials(c));
  problem.applied_field = c.applied_field;
  prepared.solver =
      std::make_shared<FieldSolver>(std::move(problem), options, kept ? &kept->members : nullptr);
  return prepared;
}

FieldSolution solved_position(const PreparedCase& prepared, const Position& position) {
  FieldSolution solution = prepared.solver->solve(position);
  if (!solution.summary.converged)
    throw std::runtime_error("no solution at this position: " + solution.summary.message);
  prepared.solver->fill_potentials(solution);
  return solution;
}

CaseResult bare_result(const Case& c, const PreparedCase& prepared) {
  CaseResult result;
  result.input = c;
  result.version = LODEGEAR_VERSION;
  result.plan = prepared.plan;
  result.meshes = prepared.meshes;
  result.solver = prepared.solver;
  result.unknowns = prepared.solver->n_unknowns();
  result.stack_length = common_extent(c.gear).length();
  result.counts = pole_counts(c.gear);
  result.clearances = gap_clearances(c.gear);
  return result;
}

}  // namespace lodegear
