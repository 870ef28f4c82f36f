// tools/pictures/field_raster.h — the field at one position, point by point over a square.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cases/loss_map.h"
#include "solver/field/field_problem.h"
#include "solver/field/field_solution.h"

namespace lodegear {

/// What is at a point: nothing where part is 0.
struct FieldSample {
  float b = 0.0F;      ///< |B|, T
  float a = 0.0F;      ///< A, Wb/m; flux lines are where it is constant
  float value = 0.0F;  ///< of the triangle, where values were given
  int part = 0;        ///< equal within a part of one member, different in the next part
  bool has_value = false;
};

/// `points` × `points` samples of a square of the given half width [m] about the axis, row by row
/// from the top left, x to the right, y up; laboratory frame.
struct FieldRaster {
  int points = 0;
  double half_width = 0.0;
  std::vector<FieldSample> samples;

  double step() const { return 2 * half_width / points; }
  FieldSample& at(int column, int row) { return samples[index(column, row)]; }
  const FieldSample& at(int column, int row) const { return samples[index(column, row)]; }

 private:
  std::size_t index(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(points) +
           static_cast<std::size_t>(column);
  }
};

/// Of a solution whose potentials are filled; `values` may be empty, NaN is none. In the meshes B
/// is linear within each triangle, whose curved sides are taken for straight (off by less than
/// 1/1000 of a pole); in the annuli of the gaps the harmonics are summed. Bore and outside stay
/// empty.
FieldRaster field_raster(const FieldProblem& problem, const FieldSolution& solution,
                         const TriangleNumbers& values, double half_width, int points);

}  // namespace lodegear
