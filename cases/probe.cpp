// cases/probe.cpp — the flux density anywhere in the plane at one position.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/probe.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "solver/gap/circle_orders.h"

namespace lodegear {

namespace {

/// Curved edges depart from the true circle by less than this part of the radius.
constexpr double edge_sagitta = 1e-4;

/// A of a uniform field on the circle of radius r: A = B_x y − B_y x.                 (theory 3.6)
Eigen::VectorXd uniform_amplitudes(const Eigen::Vector2d& b, double r, Eigen::Index n_orders) {
  Eigen::VectorXd amplitudes = Eigen::VectorXd::Zero(2 * n_orders);
  amplitudes[0] = -b[1] * r;
  amplitudes[n_orders] = b[0] * r;
  return amplitudes;
}

}  // namespace

Probe::Probe(const FieldProblem& problem, const FieldSolution& solution)
    : problem_(problem), solution_(solution), inside_(problem) {
  const FieldMember& first = problem.members.front();
  const FieldMember& last = problem.members.back();
  if (first.inside == Beyond::open_air && first.mesh.inner) bore_ = open_air(0, *first.mesh.inner);
  if (last.outside == Beyond::open_air && last.mesh.outer) {
    outside_ = open_air(problem.members.size() - 1, *last.mesh.outer);
    outside_->amplitudes -= uniform_amplitudes(problem.applied_field, outside_->radius,
                                               outside_->amplitudes.size() / 2);
  }
}

Probe::OpenAir Probe::open_air(std::size_t member, const BoundaryCircle& circle) const {
  const Eigen::VectorXd& a = solution_.a[member];
  Eigen::VectorXd on_circle(static_cast<Eigen::Index>(circle.nodes.size()));
  for (Eigen::Index i = 0; i < on_circle.size(); ++i)
    on_circle[i] = a[circle.nodes[static_cast<std::size_t>(i)]];
  // Two of five edges an order is what the circles of gaps are made for.
  const int n_orders = std::max(1, 2 * circle.n_edges() / 5);
  const double angle = solution_.position.of(problem_.members[member].mesh.member);
  return {circle.radius, turned(circle_orders(circle, 1, n_orders) * on_circle, angle)};
}

Eigen::Vector2d Probe::beyond(const OpenAir& air, const Eigen::Vector2d& x, bool outside) {
  const double r = std::max(x.norm(), 1e-9 * air.radius), theta = std::atan2(x[1], x[0]);
  const double ratio = std::min(outside ? air.radius / r : r / air.radius, 1.0);
  const Eigen::Index n = air.amplitudes.size() / 2;
  Eigen::Vector2d polar = Eigen::Vector2d::Zero();  // B_r = (1/r) ∂A/∂θ, B_θ = −∂A/∂r
  double power = 1.0;
  for (Eigen::Index k = 1; k <= n && power > 1e-300; ++k) {
    power *= ratio;
    const double a = air.amplitudes[k - 1], b = air.amplitudes[n + k - 1];
    const double kt = static_cast<double>(k) * theta, size = static_cast<double>(k) / r * power;
    polar[0] += size * (b * std::cos(kt) - a * std::sin(kt));
    polar[1] += (outside ? size : -size) * (a * std::cos(kt) + b * std::sin(kt));
  }
  return Eigen::Rotation2Dd(theta) * polar;
}

std::optional<Eigen::Vector2d> Probe::flux_density_at(const Eigen::Vector2d& x) const {
  if (const auto found = inside_.at(solution_, x)) return found;
  const double r = x.norm();
  if (bore_ && r <= bore_->radius * (1 + edge_sagitta)) return beyond(*bore_, x, false);
  if (outside_ && r >= outside_->radius * (1 - edge_sagitta))
    return beyond(*outside_, x, true) + problem_.applied_field;
  return std::nullopt;
}

std::vector<Eigen::Vector2d> circle_points(double r, int n) {
  std::vector<Eigen::Vector2d> points;
  for (int i = 0; i < n; ++i) {
    const double angle = 2 * std::numbers::pi * i / n;
    points.emplace_back(r * std::cos(angle), r * std::sin(angle));
  }
  return points;
}

}  // namespace lodegear
