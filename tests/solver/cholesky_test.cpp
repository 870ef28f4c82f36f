// tests/solver/cholesky_test.cpp — the sparse factor against dense algebra.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/cholesky.h"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

using namespace lodegear;
using Sparse = Cholesky::Sparse;

// Laplacian of an n×n grid plus a little on the diagonal, lower triangle.
static Sparse grid_matrix(int n) {
  std::vector<Eigen::Triplet<double, int>> t;
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) {
      const int node = i * n + j;
      t.emplace_back(node, node, 4.1);
      if (j + 1 < n) t.emplace_back(node + 1, node, -1.0);
      if (i + 1 < n) t.emplace_back(node + n, node, -1.0);
    }
  Sparse a(n * n, n * n);
  a.setFromTriplets(t.begin(), t.end());
  a.makeCompressed();
  return a;
}

static Eigen::VectorXd values_of(const Sparse& a) {
  return Eigen::Map<const Eigen::VectorXd>(a.valuePtr(), a.nonZeros());
}

TEST_CASE("cholesky: it solves what dense algebra solves", "[solver][cholesky]") {
  const Sparse a = grid_matrix(14);
  Cholesky factor(a, {});
  factor.factorise(values_of(a));
  const Eigen::VectorXd b = Eigen::VectorXd::LinSpaced(a.rows(), -1, 2);
  const Eigen::MatrixXd dense = Eigen::MatrixXd(a).selfadjointView<Eigen::Lower>();
  CHECK((factor.solve(b) - dense.llt().solve(b)).norm() < 1e-12 * b.norm());  // round-off
}

TEST_CASE("cholesky: the trailing block gives the inverse on the trailing nodes",
          "[solver][cholesky]") {
  const Sparse a = grid_matrix(17);
  const std::vector<int> trailing = {3, 250, 17, 100, 101, 102, 288, 0, 16};
  Cholesky factor(a, trailing);
  factor.factorise(values_of(a));
  const auto n = static_cast<Eigen::Index>(trailing.size());
  const Eigen::MatrixXd g = Eigen::MatrixXd::Random(n, 4);
  const Eigen::MatrixXd x = factor.trailing_forward(g);
  const Eigen::MatrixXd dense = Eigen::MatrixXd(a).selfadjointView<Eigen::Lower>();
  const Eigen::MatrixXd expected = g.transpose() * dense.inverse()(trailing, trailing) * g;
  CHECK((x.transpose() * x - expected).norm() < 1e-12 * expected.norm());  // round-off
}

TEST_CASE("cholesky: an indefinite or infinite matrix is refused", "[solver][cholesky]") {
  Sparse a = grid_matrix(5);
  Cholesky factor(a, {});
  Eigen::VectorXd values = values_of(a);
  values[0] = -1;
  CHECK_THROWS_AS(factor.factorise(values), NotPositiveDefinite);
  values[0] = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(factor.factorise(values), NotPositiveDefinite);
  factor.factorise(values_of(a));  // and is usable afterwards
}
