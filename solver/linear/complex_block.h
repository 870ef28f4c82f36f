// solver/linear/complex_block.h — a small complex matrix that is multiplied by many vectors.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>

namespace lodegear {

/// A square complex matrix with real and imaginary parts kept apart, which wide vectors like.
class ComplexBlock {
 public:
  ComplexBlock() = default;
  explicit ComplexBlock(const Eigen::MatrixXcd& matrix)
      : real_(matrix.real()), imag_(matrix.imag()) {}
  Eigen::Index size() const { return real_.rows(); }
  /// y = M x; x and y must not overlap.
  void times(const std::complex<double>* x, std::complex<double>* y) const;

 private:
  Eigen::MatrixXd real_, imag_;
};

}  // namespace lodegear
