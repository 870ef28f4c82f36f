// solver/fem/member_matrix.h — the sparse matrix of one member and where each element adds to it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <array>
#include <vector>

#include "mesh/member_mesh.h"

namespace lodegear {

/// The lower triangle of a symmetric N×N matrix over the mesh nodes, with the position of each of
/// an element's 21 entries in the value array found once: assembling is then plain addition.
class MemberMatrix {
 public:
  using Sparse = Eigen::SparseMatrix<double, Eigen::ColMajor, int>;
  using Element = Eigen::Matrix<double, 6, 6>;

  /// `cliques`: sets of nodes that are all coupled to one another besides (boundary circles).
  explicit MemberMatrix(const MemberMesh& mesh, const std::vector<std::vector<int>>& cliques = {});
  /// Of T×6 triangles over n_nodes nodes.
  MemberMatrix(int n_nodes, const Eigen::Matrix<int, Eigen::Dynamic, 6, Eigen::RowMajor>& triangles,
               const std::vector<std::vector<int>>& cliques = {});
  /// The pattern, all values zero.
  const Sparse& pattern() const { return pattern_; }
  /// values[...] += element, for the element matrix of triangle t (its lower half is read).
  void add(int t, const Element& element, Eigen::VectorXd& values) const;
  /// values[...] += block, for a symmetric matrix over the nodes of a clique (lower half is read).
  void add_block(const std::vector<int>& nodes, const Eigen::MatrixXd& block,
                 Eigen::VectorXd& values) const;
  /// Index of the diagonal entry of `node` in the value array.
  int diagonal(int node) const { return pattern_.outerIndexPtr()[node]; }

 private:
  int slot(int a, int b) const;  // of the entry that couples two nodes

  Sparse pattern_;
  std::vector<std::array<int, 21>> slots_;  // T
};

}  // namespace lodegear
