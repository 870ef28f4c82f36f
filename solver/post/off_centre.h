// solver/post/off_centre.h — how hard the members pull when they do not sit on one axis.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>

#include "solver/field/field_problem.h"
#include "solver/field/field_solution.h"

namespace lodegear {

/// Net pulls on the members, and how they change when members move sideways without turning, per
/// metre of stack, in the laboratory frame; all steel answers along its tangent.
struct OffCentrePull {
  /// N/m on each member where all sit on the axis (x, y): sun, modulator, ring.
  Eigen::Matrix<double, 6, 1> centred = Eigen::Matrix<double, 6, 1>::Zero();
  /// N/m of pull per m of displacement. Rows: the member that is pulled; columns: the one that is
  /// moved. A positive value on the diagonal is a *negative* stiffness: the pull grows the way the
  /// member has moved, and its bearing must be stiffer.
  Eigen::Matrix<double, 6, 6> gradient = Eigen::Matrix<double, 6, 6>::Zero();

  Eigen::Vector2d centred_on(Member pulled) const;
  Eigen::Matrix2d gradient_of(Member pulled, Member moved) const;
  /// The largest gradient of a member's own pull over all directions [N/m per m]: its bearing needs
  /// several times as much for every metre of stack (3 to 5 times: engineering judgement, no
  /// source).
  double negative_stiffness(Member moved) const;
};

/// First order in the displacement, exact otherwise: the harmonics of each gap are written about
/// the displaced axis (z − d)^±k ≈ z^±k ∓ …, and the whole gear, condensed onto its gap circles
/// with the tangents of the solution, answers.                                     (theory 14.4
/// to 14.7)
///
/// Good while the displacement is small beside the gap; in the gear `standard` a tenth of the gap
/// changes the gradient by less than 0.1 %. A member that tilts is not covered. One object serves
/// one thread, and the problem must outlive it.
class OffCentre {
 public:
  explicit OffCentre(const FieldProblem& problem);
  ~OffCentre();
  /// Of a converged solution of the same problem with potentials filled.
  OffCentrePull at(const FieldSolution& solution) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

// ---- closed forms -------------------------------------------------------------------------------

/// Two-dimensional dipole whose own flux density on a circle of radius r is B_r = b_1 cos θ, at the
/// small distance d from the axis of a bore of radius R in ideal iron: the pull per metre towards
/// the nearer side,
///   F = 4π ν0 (b_1 r²)² d / R⁴ / (1 − d²/R²)³.                                     (theory 14.8)
/// Source: method of images, derived there.
double dipole_pull_in_bore(double b_1, double r, double bore_radius, double d);

/// Pull between two smooth iron cylinders over a gap g at radius r in which p pole pairs stand with
/// the amplitude b [T] of B_r, per metre of displacement and of stack, where the magnets keep their
/// magnetomotive force: the gap narrows by d cos θ, B grows as 1/g, and Maxwell's pressure gives
///   dF/dd = π r b² ν0 / (2 g),   p ≥ 2.                                            (theory 14.9)
/// `gap`: the magnetic gap, magnets of recoil permeability 1 included. An estimate for large poles
/// (r/p well above the gap) and ideal iron. Source: derived there.
double pull_gradient_of_uniform_gap(double r, double gap, double b);

}  // namespace lodegear
