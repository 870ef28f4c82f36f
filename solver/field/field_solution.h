// solver/field/field_solution.h — the field at one position, and how it was found.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>
#include <string>
#include <vector>

#include "solver/field/field_problem.h"
#include "solver/gap/gap_field.h"

namespace lodegear {

/// How a solve went. A solve never throws for lack of convergence: it says so here.
struct SolveSummary {
  bool converged = false;
  bool fast = false;         ///< found by the fast path
  int iterations = 0;        ///< Newton steps
  int factorisations = 0;    ///< of saturable members; the other steps reused an older tangent
  int inner_iterations = 0;  ///< of conjugate gradients on the fast path, in all steps
  std::vector<double>
      residuals;        ///< ‖load out of balance‖ / ‖load‖, before each step and at the end
  std::string message;  ///< why not, if not converged
};

/// What fill_potentials needs of the path that found a solution.
struct ReducedField {
  virtual ~ReducedField() = default;
};

/// The field at one position. Torques per metre of stack [N·m/m], on the named member,
/// counter-clockwise positive; of a member that is absent, zero.
struct FieldSolution {
  Position position;
  SolveSummary summary;
  std::vector<GapField> gaps;  ///< laboratory frame
  /// A at the nodes a member, Wb/m, body frame; empty until fill_potentials.
  std::vector<Eigen::VectorXd> a;
  std::shared_ptr<const ReducedField> reduced;
  double functional = 0.0;  ///< minimised energy, J/m, up to a constant of the problem
  double torque_sun = 0.0, torque_modulator = 0.0, torque_ring = 0.0;

  double torque(Member m) const {
    return m == Member::sun ? torque_sun : m == Member::modulator ? torque_modulator : torque_ring;
  }
};

}  // namespace lodegear
