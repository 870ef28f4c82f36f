// solver/fem/member_matrix.cpp — the sparse matrix of one member and where each element adds to it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fem/member_matrix.h"

#include <algorithm>

namespace lodegear {

MemberMatrix::MemberMatrix(const MemberMesh& mesh) {
  const int n = static_cast<int>(mesh.nodes.rows());
  const int n_triangles = static_cast<int>(mesh.triangles.rows());
  std::vector<Eigen::Triplet<double, int>> entries;
  entries.reserve(static_cast<std::size_t>(n_triangles) * 21);
  for (int t = 0; t < n_triangles; ++t)
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j) {
        const auto [low, high] = std::minmax(mesh.triangles(t, i), mesh.triangles(t, j));
        entries.emplace_back(high, low, 0.0);
      }
  pattern_.resize(n, n);
  pattern_.setFromTriplets(entries.begin(), entries.end());
  pattern_.makeCompressed();

  slots_.resize(static_cast<std::size_t>(n_triangles));
  const int* outer = pattern_.outerIndexPtr();
  const int* inner = pattern_.innerIndexPtr();
  for (int t = 0; t < n_triangles; ++t) {
    int entry = 0;
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j, ++entry) {
        const auto [low, high] = std::minmax(mesh.triangles(t, i), mesh.triangles(t, j));
        const int* place = std::lower_bound(inner + outer[low], inner + outer[low + 1], high);
        slots_[static_cast<std::size_t>(t)][static_cast<std::size_t>(entry)] =
            static_cast<int>(place - inner);
      }
  }
}

void MemberMatrix::add(int t, const Element& element, Eigen::VectorXd& values) const {
  const std::array<int, 21>& slots = slots_[static_cast<std::size_t>(t)];
  std::size_t entry = 0;
  for (int i = 0; i < 6; ++i)
    for (int j = 0; j <= i; ++j) values[slots[entry++]] += element(i, j);
}

}  // namespace lodegear
