// solver/field/solver_path.h — a way from the field problem to its solution.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>

#include "solver/field/field_problem.h"
#include "solver/field/field_solution.h"

namespace lodegear {

struct SolverOptions;

/// What one thread carries from position to position.
struct PathState {
  virtual ~PathState() = default;
};

/// Shared by all threads, each with a state of its own. Every path gives the same field.
class SolverPath {
 public:
  virtual ~SolverPath() = default;
  virtual std::unique_ptr<PathState> cold_state() const = 0;
  virtual FieldSolution solve(const Position& position, PathState& state) const = 0;
  /// A at all nodes of all members, each up to its own constant.
  virtual void fill_potentials(FieldSolution& solution) const = 0;
};

/// The robust path: every member whole, direct factors.                             (theory 5)
std::unique_ptr<SolverPath> reference_path(const FieldProblem& problem,
                                           const SolverOptions& options);
/// Members of equal sectors, wave by wave; iterates on saturable steel only.          (theory 7)
std::unique_ptr<SolverPath> fast_path(const FieldProblem& problem, const SolverOptions& options,
                                      KeptMembers* kept);
/// Why the fast path does not fit, in words for a person; empty if it does.
std::string fast_path_misfit(const FieldProblem& problem);

/// Adds gap g from the amplitudes on its two circles, each in the frame of its own member.
void add_gap(const FieldProblem& problem, std::size_t g, const Eigen::VectorXd& inner,
             const Eigen::VectorXd& outer, FieldSolution& solution);
/// Torques from the gap fields of a solution.
void read_torques(const FieldProblem& problem, FieldSolution& solution);

}  // namespace lodegear
