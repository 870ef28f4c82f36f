// solver/linear/complex_block.h — a small complex matrix that is multiplied by many vectors.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>
#include <vector>

namespace lodegear {

/// A square complex matrix, stored as wide vectors like it: some rows together, of these column
/// after column, real parts before imaginary ones.
class ComplexBlock {
 public:
  ComplexBlock() = default;
  explicit ComplexBlock(const Eigen::MatrixXcd& matrix);
  /// y = M x, where x is zero up to `first_column`; x and y must not overlap.
  void times(const std::complex<double>* x, std::complex<double>* y, int first_column = 0) const;

 private:
  int n_ = 0;
  std::vector<double> values_;
};

}  // namespace lodegear
