// solver/linear/complex_block.cpp — a small complex matrix that is multiplied by many vectors.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/complex_block.h"

#include "solver/linear/lane_clones.h"

namespace lodegear {

namespace {

// Rows worked on together: four sums of two wide vectors each, enough to hide their latency.
constexpr int tile = 16;

LODEGEAR_LANE_CLONES
void times_tiles(const double* values, int n, int first_column, const double* x, double* y) {
  for (int first = 0; first < n; first += tile) {
    double real_real[tile] = {}, imag_imag[tile] = {}, imag_real[tile] = {}, real_imag[tile] = {};
    const double* real = values + static_cast<std::ptrdiff_t>(first_column) * 2 * tile;
    for (int j = first_column; j < n; ++j, real += 2 * tile) {
      const double* const imag = real + tile;
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
    values += static_cast<std::ptrdiff_t>(n) * 2 * tile;
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

void ComplexBlock::times(const std::complex<double>* x, std::complex<double>* y,
                         int first_column) const {
  times_tiles(values_.data(), n_, first_column, reinterpret_cast<const double*>(x),
              reinterpret_cast<double*>(y));
}

}  // namespace lodegear
