// tools/pictures/vtu.h — mesh and field for viewers of unstructured grids.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/loss_map.h"
#include "solver/field/field_problem.h"
#include "solver/field/field_solution.h"

namespace lodegear {

/// Numbers of all cells; none without a name. Where a number is NaN, which viewers do not read,
/// `else_` stands.
struct CellNumbers {
  std::string name;
  TriangleNumbers values;
  double else_ = 0.0;
};

/// The text of a VTU file (VTK's XML format for unstructured grids): quadratic triangles of all
/// members where they stand, laboratory frame, m. Point data A [Wb/m]; cell data B [T] at the
/// middle of each triangle, member (0 sun, 1 modulator, 2 ring), kind (0 air, 1 steel, 2 magnet, 3
/// sleeve), index of magnet or pole piece (−1: only one). Numbers are written so that they read
/// back bit by bit. Nothing is meshed in the annuli of the gaps. Needs filled potentials. With
/// `more`, cell data of that name besides.
std::string vtu_text(const FieldProblem& problem, const FieldSolution& solution,
                     const CellNumbers& more = {});

}  // namespace lodegear
