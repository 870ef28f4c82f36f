// solver/linear/cholesky.h — sparse Cholesky factors; the only door to CHOLMOD.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <memory>
#include <stdexcept>
#include <vector>

namespace lodegear {

/// The matrix is not positive definite (or not finite).
struct NotPositiveDefinite : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// A good order in which to eliminate the nodes of a symmetric matrix given by its lower triangle
/// (minimum degree), `trailing` ones last: the node at each place.
std::vector<int> elimination_order(const Eigen::SparseMatrix<double>& lower_pattern,
                                   const std::vector<int>& trailing);

/// A = L Lᵀ of a symmetric positive definite matrix given by its lower triangle. The pattern is
/// analysed once, factors are renewed for new values. `trailing` nodes are eliminated last, so that
/// the last block L₂₂ of the factor holds their Schur complement, L₂₂ L₂₂ᵀ: the operator of the
/// member as seen from its boundary circles, without a many-column solve.
/// One object serves one thread at a time; the libraries beneath are held to one thread.
class Cholesky {
 public:
  using Sparse = Eigen::SparseMatrix<double, Eigen::ColMajor, int>;

  /// `trailing`: distinct node numbers; empty = any order.
  Cholesky(const Sparse& lower_pattern, std::vector<int> trailing);
  ~Cholesky();
  Cholesky(Cholesky&&) noexcept;
  Cholesky& operator=(Cholesky&&) noexcept;

  /// `values` in the order of the pattern. Throws NotPositiveDefinite.
  void factorise(const Eigen::VectorXd& values);

  /// A⁻¹ b.
  Eigen::VectorXd solve(const Eigen::VectorXd& b) const;

  /// L₂₂⁻¹ G for G given on the trailing nodes, in the order they were given: rows(trailing)×m.
  /// With X the result, XᵀX = Gᵀ (A⁻¹)_trailing G. Rows of X are in elimination order.
  Eigen::MatrixXd trailing_forward(const Eigen::MatrixXd& g) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace lodegear
