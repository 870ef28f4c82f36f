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

using Triangles = Eigen::Matrix<int, Eigen::Dynamic, 6, Eigen::RowMajor>;

// The nodes of the cut-free sector: interior first, then those kept.
struct Numbering {
  Numbering(const FieldMember& member, const Sector& sector);

  int n_interior = 0, n_own = 0;  // of kept nodes: rim and boundary
  std::vector<int> upper;         // place of each copy among rim and boundary
  Triangles triangles;            // linear ones, renumbered
  int n_nodes() const { return n_interior + n_own + static_cast<int>(upper.size()); }
};

Numbering::Numbering(const FieldMember& member, const Sector& sector)
    : triangles(static_cast<int>(sector.linear_triangles.size()), 6) {
  const MemberMesh& mesh = member.mesh;
  std::vector<int> here(static_cast<std::size_t>(mesh.nodes_per_sector), -1), copy = here;
  int next = 0;
  for (const auto* list : {&sector.interior, &sector.rim, &sector.boundary})
    for (int node : *list) here[static_cast<std::size_t>(node)] = next++;
  n_interior = static_cast<int>(sector.interior.size());
  n_own = next - n_interior;
  for (int t = 0; t < triangles.rows(); ++t)
    for (int i = 0; i < 6; ++i) {
      const int node = mesh.triangles(sector.linear_triangles[static_cast<std::size_t>(t)], i);
      const SectorNode at = sector_node(mesh, node);
      const auto local = static_cast<std::size_t>(at.local);
      if (at.place == SectorNode::Place::next && copy[local] < 0) {
        copy[local] = next++;
        upper.push_back(here[local] - n_interior);
      }
      triangles(t, i) = at.place == SectorNode::Place::axis   ? -1
                        : at.place == SectorNode::Place::here ? here[local]
                                                              : copy[local];
    }
}

// Linear steel may reach the axis, where A = 0: there the row is left out by giving it a node of
// its own, last of all, that is never read.
void ground_axis(Triangles& triangles, int node) {
  for (int t = 0; t < triangles.rows(); ++t)
    for (int i = 0; i < 6; ++i)
      if (triangles(t, i) < 0) triangles(t, i) = node;
}

// Loads of the magnets of all sectors on one triangle, 6×n: the remanence of each sector is turned
// back into sector 0.
Eigen::MatrixXd magnet_loads(const FieldMember& member, const Sector& sector,
                             const std::array<ElementPoint, n_quadrature>& points, int triangle) {
  Eigen::MatrixXd loads = Eigen::MatrixXd::Zero(6, sector.n_sectors);
  for (int j = 0; j < sector.n_sectors; ++j) {
    const int there = j * member.mesh.triangles_per_sector + triangle;
    const auto region =
        static_cast<std::size_t>(member.mesh.region[static_cast<std::size_t>(there)]);
    const RegionLaw& law = member.laws[region];
    if (law.remanence == 0.0) continue;
    const double nu = law.reluctivity.at(0).nu;
    const Eigen::Rotation2Dd turn(2 * pi * j / sector.n_sectors);
    for (const ElementPoint& p : points) {
      const Eigen::Vector2d br =
          turn.inverse() * (law.remanence * law.magnetisation.at(turn * p.x)).eval();
      loads.col(j) += p.weight * nu * (br[0] * p.bx + br[1] * p.by);
    }
  }
  return loads;
}

}  // namespace

OpenSector::OpenSector(const FieldMember& member, const Sector& sector) {
  Numbering numbering(member, sector);
  upper = numbering.upper;
  const int n_all = numbering.n_nodes(), n_i = numbering.n_interior, n_k = n_all - n_i;
  ground_axis(numbering.triangles, n_all);
  const MemberMatrix matrix(n_all + 1, numbering.triangles);
  Eigen::VectorXd values = Eigen::VectorXd::Zero(matrix.pattern().nonZeros());
  Eigen::MatrixXd load = Eigen::MatrixXd::Zero(n_all + 1, sector.n_sectors);
  for (int t = 0; t < numbering.triangles.rows(); ++t) {
    const int triangle = sector.linear_triangles[static_cast<std::size_t>(t)];
    const auto region =
        static_cast<std::size_t>(member.mesh.region[static_cast<std::size_t>(triangle)]);
    const double nu = member.laws[region].reluctivity.at(0).nu;
    const auto points = element_points(member.mesh, triangle);
    MemberMatrix::Element element = MemberMatrix::Element::Zero();
    for (const ElementPoint& p : points)
      element += p.weight * nu * (p.bx * p.bx.transpose() + p.by * p.by.transpose());
    matrix.add(t, element, values);
    const Eigen::MatrixXd loads = magnet_loads(member, sector, points, triangle);
    for (int i = 0; i < 6; ++i) load.row(numbering.triangles(t, i)) += loads.row(i);
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
  source = kept_load.topRows(numbering.n_own).transpose();
  for (std::size_t c = 0; c < upper.size(); ++c)
    for (int j = 0; j < sector.n_sectors; ++j)
      source((j + 1) % sector.n_sectors, upper[c]) +=
          kept_load(numbering.n_own + static_cast<Eigen::Index>(c), j);
}

}  // namespace lodegear
