// solver/waves/open_sector.cpp — the linear part of one sector, condensed onto its rim.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/open_sector.h"

#include <Eigen/Geometry>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <stdexcept>

#include "solver/fem/element_table.h"
#include "solver/fem/member_matrix.h"

namespace lodegear {

namespace {

// Linear steel may reach the axis, where A = 0: there the row is left out by giving it a node of
// its own, last of all, that is never read.
void ground_axis(CutSector& cut, int node) {
  cut.triangles = (cut.triangles.array() < 0).select(node, cut.triangles);
}

// Loads of the magnets of all sectors on one triangle, 6×n: the remanence of each sector is turned
// back into sector 0.
Eigen::MatrixXd magnet_loads(const FieldMember& member, const Sector& sector,
                             const std::array<ElementPoint, n_quadrature>& points, int triangle) {
  Eigen::MatrixXd loads = Eigen::MatrixXd::Zero(6, sector.n_sectors);
  for (int j = 0; j < sector.n_sectors; ++j) {
    const int there = j * member.mesh.triangles_per_sector + triangle;
    const RegionLaw& law = member.law(there);
    if (law.remanence == 0.0) continue;
    const double nu = law.reluctivity.at(0).nu;
    const Eigen::Rotation2Dd turn(2 * pi * j / sector.n_sectors);
    for (const ElementPoint& p : points) {
      const Eigen::Vector2d br =
          turn.inverse() * (member.remanence(there) * law.magnetisation.at(turn * p.x)).eval();
      loads.col(j) += p.weight * nu * (br[0] * p.bx + br[1] * p.by);
    }
  }
  return loads;
}

}  // namespace

OpenSector::OpenSector(const FieldMember& member, const Sector& sector) {
  const auto n_i = static_cast<int>(sector.interior.size());
  CutSector cut(member.mesh, {&sector.interior, &sector.rim, &sector.boundary},
                sector.linear_triangles, n_i);
  upper = cut.upper;
  const int n_k = cut.n_own + static_cast<int>(upper.size()), n_all = n_i + n_k;
  ground_axis(cut, n_all);
  const MemberMatrix matrix(n_all + 1, cut.triangles);
  Eigen::VectorXd values = Eigen::VectorXd::Zero(matrix.pattern().nonZeros());
  Eigen::MatrixXd load = Eigen::MatrixXd::Zero(n_all + 1, sector.n_sectors);
  for (int t = 0; t < cut.triangles.rows(); ++t) {
    const int triangle = sector.linear_triangles[static_cast<std::size_t>(t)];
    const double nu = member.law(triangle).reluctivity.at(0).nu;
    const auto points = element_points(member.mesh, triangle);
    MemberMatrix::Element element = MemberMatrix::Element::Zero();
    for (const ElementPoint& p : points)
      element += p.weight * nu * (p.bx * p.bx.transpose() + p.by * p.by.transpose());
    matrix.add(t, element, values);
    const Eigen::MatrixXd loads = magnet_loads(member, sector, points, triangle);
    for (int i = 0; i < 6; ++i) load.row(cut.triangles(t, i)) += loads.row(i);
  }

  Eigen::SparseMatrix<double> lower = matrix.pattern();
  std::copy(values.data(), values.data() + values.size(), lower.valuePtr());
  const Eigen::SparseMatrix<double> full = lower.selfadjointView<Eigen::Lower>();
  const Eigen::MatrixXd t_ik = full.block(0, n_i, n_i, n_k);
  stiffness = full.block(n_i, n_i, n_k, n_k);
  Eigen::MatrixXd kept_load = load.middleRows(n_i, n_k);
  if (n_i > 0) {
    const Eigen::SparseMatrix<double> t_ii = full.block(0, 0, n_i, n_i);
    const Eigen::SimplicialLLT<Eigen::SparseMatrix<double>> factor(t_ii);
    if (factor.info() != Eigen::Success)
      throw std::runtime_error("a sector's linear part is not positive definite");
    to_interior = factor.solve(t_ik);
    interior_source = factor.solve(load.topRows(n_i));
    stiffness.noalias() -= t_ik.transpose() * to_interior;
    kept_load.noalias() -= t_ik.transpose() * interior_source;
  } else {
    to_interior.resize(0, n_k);
    interior_source.resize(0, sector.n_sectors);
  }
  source = kept_load.topRows(cut.n_own).transpose();
  for (std::size_t c = 0; c < upper.size(); ++c)
    for (int j = 0; j < sector.n_sectors; ++j)
      source((j + 1) % sector.n_sectors, upper[c]) +=
          kept_load(cut.n_own + static_cast<Eigen::Index>(c), j);
}

}  // namespace lodegear
