// solver/waves/wave_newton.h — Newton's method on the saturable steel of a gear seen by waves.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <algorithm>
#include <optional>
#include <vector>

#include "solver/field/field_solver.h"
#include "solver/waves/wave_gear.h"
#include "solver/waves/wave_preconditioner.h"

namespace lodegear {

/// The steel of one member as one thread sees it.
struct BodiesState {
  explicit BodiesState(const SteelBodies& bodies)
      : a(bodies.n_bodies(), bodies.n_places()),
        load(a),
        direction(a),
        kept(a),
        product(a),
        factor(bodies.pattern(), bodies.n_bodies()),
        mean(Eigen::MatrixXd::Zero(bodies.pattern().n_kept(), bodies.pattern().n_kept())) {}

  Lanes a;               ///< Wb/m, at all places
  Lanes load;            ///< ∂W/∂A there
  Lanes direction;       ///< of the present step
  Lanes kept, product;   ///< work space
  LaneCholesky factor;   ///< of some tangent; of its Schur complements `mean` is taken off
  Eigen::MatrixXd mean;  ///< the mean tangent that the preconditioner knows; 0 before there is one
};

/// What a preconditioner has cost since it was new by not being new.
struct Wear {
  int first_iterations = 0;  ///< that it took when it was
  int extra_iterations = 0;  ///< that it took beyond these ever since
  void add(int iterations) {
    if (first_iterations == 0) first_iterations = iterations;
    extra_iterations += std::max(0, iterations - first_iterations);
  }
};

/// What one thread carries from position to position.
struct WaveState {
  explicit WaveState(const WaveGear& gear);

  Eigen::VectorXcd u;
  std::vector<std::optional<BodiesState>> bodies;  ///< none where a member has no saturable steel
  std::optional<WavePreconditioner> preconditioner;
  Wear wear;
  double energy = 0.0;  ///< Φ at the solution, J/m
};

/// Moves the state to the field at `position`, from where it is.                       (theory 7)
SolveSummary wave_newton(const WaveGear& gear, const SolverOptions& options,
                         const Position& position, WaveState& state);

}  // namespace lodegear
