// solver/post/line_cells.h — integrals over the cells of a line, for grids that are products of
// lines. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <cmath>
#include <vector>

namespace lodegear {

/// ∫ w N_a N_b, ∫ w N_a' N_b', ∫ w N_a, ∫ w N_a' of the two linear shapes N of a cell, with the
/// weight w.
struct LineCell {
  std::array<std::array<double, 2>, 2> mass{}, stiffness{};
  std::array<double, 2> value{}, slope{};
};

/// One a cell; three Gauss points, exact for weights 1 and x.
template <class Weight>
std::vector<LineCell> line_cells(const std::vector<double>& x, Weight weight) {
  const double outer = std::sqrt(0.6);
  const std::array<double, 3> points{-outer, 0.0, outer}, weights{5.0 / 9, 8.0 / 9, 5.0 / 9};
  std::vector<LineCell> cells(x.size() - 1);
  for (std::size_t e = 0; e + 1 < x.size(); ++e) {
    const double h = x[e + 1] - x[e];
    for (std::size_t g = 0; g < 3; ++g) {
      const double t = (points[g] + 1) / 2, w = weight(x[e] + t * h) * weights[g] / 2 * h;
      const std::array<double, 2> shape{1 - t, t}, slope{-1 / h, 1 / h};
      for (std::size_t a = 0; a < 2; ++a) {
        cells[e].value[a] += w * shape[a];
        cells[e].slope[a] += w * slope[a];
        for (std::size_t b = 0; b < 2; ++b) {
          cells[e].mass[a][b] += w * shape[a] * shape[b];
          cells[e].stiffness[a][b] += w * slope[a] * slope[b];
        }
      }
    }
  }
  return cells;
}

}  // namespace lodegear
