// tools/bench/solving.h — what all rows do: choose a resolution, set up a solver, read slip torque.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cases/case_result.h"
#include "solver/field/field_solver.h"
#include "tools/bench/clock.h"

namespace lodegear {
struct KeptParts;
}

namespace lodegear::bench {

/// A way of solving that is measured by itself.
struct NamedPath {
  std::string name;
  SolverOptions options;
};
/// All there are.
std::vector<NamedPath> paths();

/// What a torque may be wrong by, part of slip torque.
enum class Accuracy { quarter_per_cent, tenth_per_cent };
std::string name_of(Accuracy accuracy);  ///< "0.25 %"

/// A rung of the ladder of meshes with other numbers of orders in the gaps; 0 = those of the rung.
Resolution rung_with_orders(const Gear& gear, double level, int inner, int outer);
/// The coarsest resolution known to keep the accuracy; each row that uses it measures the error and
/// prints it beside. Found with `lodegear_bench --try`.
Resolution resolution_for(const std::string& name, const Gear& gear, Accuracy accuracy);
/// "fineness 0.5; K 40; 40": what the plan came to.
std::string text_of(const MeshPlan& plan);

/// A solver and what it cost to get it.
struct SetUp {
  MeshPlan plan;
  std::unique_ptr<FieldSolver> solver;
  Cost meshes, condensing;
};
std::vector<MemberMesh> meshes_of(const Case& c, const MeshPlan& plan, KeptParts* kept = nullptr);
std::unique_ptr<FieldSolver> solver_of(const Case& c, std::vector<MemberMesh> meshes,
                                       const MeshPlan& plan, const SolverOptions& options,
                                       KeptParts* kept = nullptr);
SetUp set_up(const Case& c, const Resolution& resolution, const SolverOptions& options,
             KeptParts* kept = nullptr);

/// Positions of a slip curve: the sun turned through one electrical period in n even steps.
std::vector<Position> slip_curve_positions(const Case& c, int n);

/// Torques on sun, modulator and ring, N·m per metre. Throws std::runtime_error if the position did
/// not converge: nothing is timed that has no solution.
PerMember torques(const FieldSolution& solution);

/// Size of the slip torque on each member from three positions 15° (electrical) apart around 90°:
/// top of the parabola through them. N·m per metre.
PerMember slip_torque_of_three(const Case& c, const FieldSolver& solver);

}  // namespace lodegear::bench
