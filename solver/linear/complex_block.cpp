// solver/linear/complex_block.cpp — a small complex matrix that is multiplied by many vectors.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/complex_block.h"

#include "solver/linear/lane_clones.h"

namespace lodegear {

namespace {

// Column by column, two at a time; y as real and imaginary parts of length n.
LODEGEAR_LANE_CLONES
void add_columns(const double* real, const double* imag, const double* x, int n,
                 double* __restrict y_real, double* __restrict y_imag) {
  int j = 0;
  for (; j + 1 < n; j += 2, real += 2 * n, imag += 2 * n, x += 4) {
    const double *const r0 = real, *const r1 = real + n, *const i0 = imag, *const i1 = imag + n;
    const double x0 = x[0], x1 = x[1], x2 = x[2], x3 = x[3];
    for (int i = 0; i < n; ++i) {
      y_real[i] += (r0[i] * x0 - i0[i] * x1) + (r1[i] * x2 - i1[i] * x3);
      y_imag[i] += (r0[i] * x1 + i0[i] * x0) + (r1[i] * x3 + i1[i] * x2);
    }
  }
  if (j == n) return;
  for (int i = 0; i < n; ++i) {
    y_real[i] += real[i] * x[0] - imag[i] * x[1];
    y_imag[i] += real[i] * x[1] + imag[i] * x[0];
  }
}

}  // namespace

void ComplexBlock::times(const std::complex<double>* x, std::complex<double>* y) const {
  const auto n = static_cast<int>(size());
  Eigen::VectorXd parts = Eigen::VectorXd::Zero(2 * n);
  add_columns(real_.data(), imag_.data(), reinterpret_cast<const double*>(x), n, parts.data(),
              parts.data() + n);
  for (int i = 0; i < n; ++i) y[i] = {parts[i], parts[n + i]};
}

}  // namespace lodegear
