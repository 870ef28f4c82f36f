// tests/support/magnet_rod.h — a rod magnetised along its own x, in air.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "solver/field/field_problem.h"
#include "tests/support/polar_mesh.h"

namespace lodegear {

/// Radius 10 mm, B_r 1.2 T, n layers of triangles along the radius; air to 16 mm and beyond.
inline FieldProblem magnet_rod(int n, double mu_rec, const Eigen::Vector2d& applied) {
  FieldMember member;
  member.mesh = polar_mesh(
      Member::sun,
      joined(joined({1e-6, 3e-6, 1e-5, 3e-5, 1e-4, 3e-4, 1e-3}, spaced(0.001, 0.010, n)),
             spaced(0.010, 0.016, n)),
      8 * n, 0.0, {{RegionKind::magnet, "m", "magnet", 0}, {RegionKind::air, "air", "air", -1}},
      [n](int layer, int) { return layer < 6 + n ? 0 : 1; }, false);
  member.laws = {{Reluctivity::constant(nu0 / mu_rec), 1.2, {}}, {}};
  member.inside = Beyond::ideal_iron;
  FieldProblem problem;
  problem.members = {member};
  problem.applied_field = applied;
  return problem;
}

}  // namespace lodegear
