// solver/post/circle_stress.cpp — Maxwell's stress on the circles where a member's mesh ends.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/circle_stress.h"

#include <cmath>

#include "materials/constants.h"
#include "solver/gap/circle_orders.h"

namespace lodegear {

namespace {

// In open air order k falls as (R/r)^k outside or (r/R)^k in a bore, so B_θ = ± k/R times A; what
// is applied from afar grows outwards instead.                                   (theory 3.4, 3.6)
FluxHarmonics open_air_harmonics(const BoundaryCircle& circle, const Eigen::VectorXd& a,
                                 bool outside, const Eigen::Vector2d& applied) {
  const int n = resolved_orders(circle);
  const Eigen::VectorXd on_circle = a(circle.nodes);
  const Eigen::VectorXd c = circle_orders(circle, 1, n) * on_circle;
  FluxHarmonics h{Eigen::VectorXd(n), Eigen::VectorXd(n), Eigen::VectorXd(n), Eigen::VectorXd(n)};
  for (int k = 1; k <= n; ++k) {
    const double per_metre = k / circle.radius;
    h.r_cos[k - 1] = per_metre * c[n + k - 1];
    h.r_sin[k - 1] = -per_metre * c[k - 1];
    h.t_cos[k - 1] = (outside ? per_metre : -per_metre) * c[k - 1];
    h.t_sin[k - 1] = (outside ? per_metre : -per_metre) * c[n + k - 1];
  }
  if (outside) {
    h.t_cos[0] += 2 * applied[1];
    h.t_sin[0] -= 2 * applied[0];
  }
  return h;
}

Eigen::Vector2d in_frame(const Eigen::Vector2d& b, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return {c * b[0] + s * b[1], c * b[1] - s * b[0]};
}

}  // namespace

Eigen::Vector2d CircleField::stress(double angle) const {
  const Eigen::Vector2d b = flux_density(harmonics, angle + turned);
  const double normal = 0.5 * nu0 * (b[0] * b[0] - b[1] * b[1]), shear = nu0 * b[0] * b[1];
  const double c = std::cos(angle), s = std::sin(angle), sign = outside ? 1.0 : -1.0;
  return sign * Eigen::Vector2d(normal * c - shear * s, normal * s + shear * c);
}

std::vector<CircleField> circle_fields(const FieldProblem& problem, const FieldSolution& solution,
                                       std::size_t member) {
  const FieldMember& m = problem.members[member];
  const double angle = solution.position.of(m.mesh.member);
  const bool last = member + 1 == problem.members.size();
  const Eigen::Vector2d applied =
      last ? in_frame(problem.applied_field, angle) : Eigen::Vector2d(0, 0);
  std::vector<CircleField> fields;
  const auto add = [&](const BoundaryCircle& circle, bool outside, Beyond beyond) {
    if (beyond == Beyond::gap) {
      const GapField& gap = solution.gaps[outside ? member : member - 1];
      const double r = outside ? gap.r_inner : gap.r_outer;
      fields.push_back({&circle, outside, flux_harmonics(gap, r), angle});
    } else if (beyond == Beyond::open_air) {
      fields.push_back({&circle, outside,
                        open_air_harmonics(circle, solution.a[member], outside, applied), 0.0});
    }
  };
  if (m.mesh.inner) add(*m.mesh.inner, false, m.inside);
  if (m.mesh.outer) add(*m.mesh.outer, true, m.outside);
  return fields;
}

}  // namespace lodegear
