// solver/post/circle_stress.h — Maxwell's stress on the circles where a member's mesh ends.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/field/field_problem.h"
#include "solver/field/field_solution.h"
#include "solver/gap/gap_field.h"

namespace lodegear {

/// A boundary circle of a member with the field on it, from the harmonics of the gap or of the open
/// air beyond: there B_θ is known as well as B_r is.
struct CircleField {
  const BoundaryCircle* circle = nullptr;
  bool outside = true;      ///< the member lies within it
  FluxHarmonics harmonics;  ///< in a frame at `turned` from the member's own
  double turned = 0.0;      ///< rad: angle there = angle in the member's frame + turned

  /// Force per area on the member's side at an angle of its own frame, in that frame, Pa.
  Eigen::Vector2d stress(double angle) const;
};

/// Of a solution whose potentials are filled; `member` counts from inside.
std::vector<CircleField> circle_fields(const FieldProblem& problem, const FieldSolution& solution,
                                       std::size_t member);

}  // namespace lodegear
