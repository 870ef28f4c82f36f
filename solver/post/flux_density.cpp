// solver/post/flux_density.cpp — B at points and on circles, from a solution with its potentials.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/flux_density.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace lodegear {

PointLocator::PointLocator(const MemberMesh& mesh) : mesh_(mesh) {
  const Eigen::Vector2d low = mesh.nodes.colwise().minCoeff();
  const Eigen::Vector2d high = mesh.nodes.colwise().maxCoeff();
  const double size = (high - low).maxCoeff();
  n_ = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(mesh.triangles.rows()))));
  origin_ = low;
  width_ = size * (1 + 1e-9) / n_;
  cells_.resize(static_cast<std::size_t>(n_) * static_cast<std::size_t>(n_));
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    Eigen::AlignedBox2d box;
    for (int i = 0; i < 6; ++i) box.extend(mesh.nodes.row(mesh.triangles(t, i)).transpose());
    // A curved edge bulges past its nodes by far less than its length.
    const Eigen::Vector2d margin = Eigen::Vector2d::Constant(0.05 * box.sizes().maxCoeff());
    for (int i = cell(box.min()[0] - margin[0], origin_[0]);
         i <= cell(box.max()[0] + margin[0], origin_[0]); ++i)
      for (int j = cell(box.min()[1] - margin[1], origin_[1]);
           j <= cell(box.max()[1] + margin[1], origin_[1]); ++j)
        cells_[static_cast<std::size_t>(i) * static_cast<std::size_t>(n_) +
               static_cast<std::size_t>(j)]
            .push_back(t);
  }
}

int PointLocator::cell(double coordinate, double origin) const {
  return std::clamp(static_cast<int>(std::floor((coordinate - origin) / width_)), 0, n_ - 1);
}

// Newton on the curved map; a point on a common edge belongs to the triangle asked first.
std::optional<PointLocator::Place> PointLocator::within(int triangle,
                                                        const Eigen::Vector2d& x) const {
  Eigen::Matrix<double, 6, 2> corners;
  for (int i = 0; i < 6; ++i) corners.row(i) = mesh_.nodes.row(mesh_.triangles(triangle, i));
  Eigen::Vector2d at(1.0 / 3, 1.0 / 3);
  for (int step = 0; step < 12; ++step) {
    const Eigen::Vector2d off = x - corners.transpose() * shape_values(at[0], at[1]);
    const Eigen::Matrix2d jacobian = (shape_gradients(at[0], at[1]).transpose() * corners);
    at += jacobian.transpose().inverse() * off;
    if (!at.allFinite() || at.cwiseAbs().maxCoeff() > 10) return std::nullopt;
  }
  constexpr double slack = 1e-9;
  if (at[0] < -slack || at[1] < -slack || at[0] + at[1] > 1 + slack) return std::nullopt;
  return Place{triangle, at[0], at[1]};
}

std::optional<PointLocator::Place> PointLocator::place(const Eigen::Vector2d& x) const {
  const Eigen::Vector2d from = x - origin_;
  const double size = width_ * n_;
  if (!(from.minCoeff() >= -1e-9 * size && from.maxCoeff() <= size * (1 + 1e-9)))
    return std::nullopt;
  const auto i = static_cast<std::size_t>(cell(x[0], origin_[0]));
  const auto j = static_cast<std::size_t>(cell(x[1], origin_[1]));
  for (int t : cells_[i * static_cast<std::size_t>(n_) + j])
    if (const auto found = within(t, x)) return found;
  return std::nullopt;
}

Eigen::Vector2d flux_density(const MemberMesh& mesh, const Eigen::VectorXd& a,
                             const PointLocator::Place& place) {
  const ElementPoint p = element_point(mesh, place.triangle, place.xi, place.eta);
  Eigen::Vector2d b = Eigen::Vector2d::Zero();
  for (int i = 0; i < 6; ++i) {
    const double value = a[mesh.triangles(place.triangle, i)];
    b += Eigen::Vector2d(p.bx[i], p.by[i]) * value;
  }
  return b;
}

FluxProbe::FluxProbe(const FieldProblem& problem) : problem_(problem) {
  for (const FieldMember& member : problem.members) locators_.emplace_back(member.mesh);
}

std::optional<Eigen::Vector2d> FluxProbe::at(const FieldSolution& solution,
                                             const Eigen::Vector2d& x) const {
  const double r = x.norm();
  for (const GapField& gap : solution.gaps)
    if (gap.r_inner <= r && r <= gap.r_outer) {
      const double theta = std::atan2(x[1], x[0]);
      const Eigen::Vector2d polar = flux_density(flux_harmonics(gap, r), theta);
      return Eigen::Rotation2Dd(theta) * polar;
    }
  for (std::size_t i = 0; i < problem_.members.size(); ++i) {
    const MemberMesh& mesh = problem_.members[i].mesh;
    const Eigen::Rotation2Dd turn(solution.position.of(mesh.member));
    if (const auto place = locators_[i].place(turn.inverse() * x))
      return turn * flux_density(mesh, solution.a[i], *place);
  }
  return std::nullopt;
}

}  // namespace lodegear
