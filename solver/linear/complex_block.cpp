// solver/linear/complex_block.cpp — a small complex matrix that is multiplied by many vectors.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/complex_block.h"

#include "solver/linear/lane_clones.h"

namespace lodegear {

namespace {

constexpr int tile = 16;  // rows: four sums of two wide vectors each, enough to hide their latency

LODEGEAR_LANE_CLONES
void times_tiles(const double* values, const double* x, int n, double* y) {
  for (int first = 0; first < n; first += tile) {
    double real_real[tile] = {}, imag_imag[tile] = {}, imag_real[tile] = {}, real_imag[tile] = {};
    for (int j = 0; j < n; ++j, values += 2 * tile) {
      const double *const real = values, *const imag = values + tile;
      const double x_real = x[2 * j], x_imag = x[2 * j + 1];
      for (int i = 0; i < tile; ++i) {
        real_real[i] += real[i] * x_real;
        imag_imag[i] += imag[i] * x_imag;
        imag_real[i] += imag[i] * x_real;
        real_imag[i] += real[i] * x_imag;
      }
    }
    for (int i = 0; i < tile && first + i < n; ++i) {
      y[2 * (first + i)] = real_real[i] - imag_imag[i];
      y[2 * (first + i) + 1] = imag_real[i] + real_imag[i];
    }
  }
}

}  // namespace

ComplexBlock::ComplexBlock(const Eigen::MatrixXcd& matrix) : n_(static_cast<int>(matrix.rows())) {
  const int n_tiles = (n_ + tile - 1) / tile;
  values_.resize(static_cast<std::size_t>(n_tiles) * static_cast<std::size_t>(n_) * 2 * tile);
  double* value = values_.data();
  for (int first = 0; first < n_; first += tile)
    for (int j = 0; j < n_; ++j, value += 2 * tile)
      for (int i = 0; i < tile && first + i < n_; ++i) {
        value[i] = matrix(first + i, j).real();
        value[tile + i] = matrix(first + i, j).imag();
      }
}

void ComplexBlock::times(const std::complex<double>* x, std::complex<double>* y) const {
  times_tiles(values_.data(), reinterpret_cast<const double*>(x), n_, reinterpret_cast<double*>(y));
}

}  // namespace lodegear
