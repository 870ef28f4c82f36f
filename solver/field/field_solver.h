// solver/field/field_solver.h — condensed once, solved at every position.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "solver/field/field_problem.h"
#include "solver/field/field_solution.h"

namespace lodegear {

class KeptMembers;

/// Which way to the field. Both give the same (theory 5, 7).
enum class SolverPathChoice {
  automatic,  ///< the fast path where it fits, else, and where it fails, the reference path
  reference,  ///< every member whole, direct factors
  fast,       ///< throws std::invalid_argument where it does not fit
};

struct SolverOptions {
  SolverPathChoice path = SolverPathChoice::automatic;
  double tolerance = 1e-9;  ///< on the load out of balance, relative to the load
  int most_iterations = 200;
  /// Reference path: a step that reduces the residual by less asks for a new tangent.
  double worst_reduction = 0.3;
};

/// What one thread carries from position to position: factors of the saturable members and the
/// last solution as the next start. A fresh one starts cold.
class SolverState {
 public:
  SolverState();
  ~SolverState();
  SolverState(SolverState&&) noexcept;
  SolverState& operator=(SolverState&&) noexcept;

 private:
  friend class FieldSolver;
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// Safe to use from several threads, each with its own SolverState.
///
/// Newton minimises   Σ W(A) − f·A + gap energy,   which is convex while H(B) rises, so the step
/// with a line search on its derivative converges from anywhere; a step may reuse an older tangent
/// as long as the residual falls fast enough.                                    (theory 5, 7)
class FieldSolver {
 public:
  /// Condensed members that `kept` holds are taken from there, others put there; it is no longer
  /// needed afterwards.
  explicit FieldSolver(FieldProblem problem, SolverOptions options = {},
                       KeptMembers* kept = nullptr);
  ~FieldSolver();
  FieldSolver(FieldSolver&&) noexcept;

  const FieldProblem& problem() const;
  bool linear() const;
  int n_unknowns() const;
  /// "fast", or why the reference path was taken.
  std::string path() const;

  FieldSolution solve(const Position& position, SolverState& state) const;
  /// Cold start.
  FieldSolution solve(const Position& position) const;

  /// Fills solution.a, of a solution of this solver, and shifts each by a constant so that the mean
  /// potential is the same on both sides of every gap: flux lines then run through.
  void fill_potentials(FieldSolution& solution) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace lodegear
