// solver/field/field_solution.h — the field at one position, and how it was found.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "solver/field/field_problem.h"
#include "solver/gap/gap_field.h"

namespace lodegear {

/// How a solve went. A solve never throws for lack of convergence: it says so here.
struct SolveSummary {
  bool converged = false;
  int iterations = 0;      ///< Newton steps
  int factorisations = 0;  ///< of saturable members; the other steps reused an older tangent
  std::vector<double>
      residuals;        ///< ‖load out of balance‖ / ‖load‖, before each step and at the end
  std::string message;  ///< why not, if not converged
};

/// The field at one position. Torques per metre of stack [N·m/m], on the named member,
/// counter-clockwise positive; of a member that is absent, zero.
struct FieldSolution {
  Position position;
  SolveSummary summary;
  std::vector<GapField> gaps;               ///< laboratory frame
  std::vector<Eigen::VectorXd> flux_loads;  ///< q a member, body frame, over its ports
  /// A at the nodes a member, Wb/m, body frame; empty for linear members until potentials() fills
  /// it.
  std::vector<Eigen::VectorXd> a;
  double functional = 0.0;  ///< minimised energy, J/m, up to a constant of the problem
  double torque_sun = 0.0, torque_modulator = 0.0, torque_ring = 0.0;

  double torque(Member m) const {
    return m == Member::sun ? torque_sun : m == Member::modulator ? torque_modulator : torque_ring;
  }
};

}  // namespace lodegear
