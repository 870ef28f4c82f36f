// solver/fem/member_matrix.cpp — the sparse matrix of one member and where each element adds to it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fem/member_matrix.h"

#include <algorithm>

namespace lodegear {

MemberMatrix::MemberMatrix(const MemberMesh& mesh, const std::vector<std::vector<int>>& cliques)
    : MemberMatrix(static_cast<int>(mesh.nodes.rows()), mesh.triangles, cliques) {}

MemberMatrix::MemberMatrix(int n_nodes,
                           const Eigen::Matrix<int, Eigen::Dynamic, 6, Eigen::RowMajor>& triangles,
                           const std::vector<std::vector<int>>& cliques) {
  const int n_triangles = static_cast<int>(triangles.rows());
  std::vector<Eigen::Triplet<double, int>> entries;
  entries.reserve(static_cast<std::size_t>(n_triangles) * 21);
  const auto couple = [&entries](int a, int b) {
    entries.emplace_back(std::max(a, b), std::min(a, b), 0.0);
  };
  for (int t = 0; t < n_triangles; ++t)
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j) couple(triangles(t, i), triangles(t, j));
  for (const std::vector<int>& clique : cliques)
    for (std::size_t i = 0; i < clique.size(); ++i)
      for (std::size_t j = 0; j < i; ++j) couple(clique[i], clique[j]);
  pattern_.resize(n_nodes, n_nodes);
  pattern_.setFromTriplets(entries.begin(), entries.end());
  pattern_.makeCompressed();

  slots_.resize(static_cast<std::size_t>(n_triangles));
  for (int t = 0; t < n_triangles; ++t) {
    std::size_t entry = 0;
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j)
        slots_[static_cast<std::size_t>(t)][entry++] = slot(triangles(t, i), triangles(t, j));
  }
}

int MemberMatrix::slot(int a, int b) const {
  const auto [low, high] = std::minmax(a, b);
  const int* inner = pattern_.innerIndexPtr();
  const int* begin = inner + pattern_.outerIndexPtr()[low];
  const int* end = inner + pattern_.outerIndexPtr()[low + 1];
  return static_cast<int>(std::lower_bound(begin, end, high) - inner);
}

void MemberMatrix::add_block(const std::vector<int>& nodes, const Eigen::MatrixXd& block,
                             Eigen::VectorXd& values) const {
  for (std::size_t i = 0; i < nodes.size(); ++i)
    for (std::size_t j = 0; j <= i; ++j)
      values[slot(nodes[i], nodes[j])] +=
          block(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
}

void MemberMatrix::add(int t, const Element& element, Eigen::VectorXd& values) const {
  const std::array<int, 21>& slots = slots_[static_cast<std::size_t>(t)];
  std::size_t entry = 0;
  for (int i = 0; i < 6; ++i)
    for (int j = 0; j <= i; ++j) values[slots[entry++]] += element(i, j);
}

}  // namespace lodegear
