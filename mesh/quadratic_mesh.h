// mesh/quadratic_mesh.h — six-node triangles of one sector, curved along arcs.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <map>
#include <utility>
#include <vector>

#include "mesh/cut_drawing.h"
#include "mesh/member_mesh.h"

namespace lodegear {

struct QuadraticMesh {
  std::vector<Eigen::Vector2d> nodes;         ///< corner nodes first
  std::vector<std::array<int, 6>> triangles;  ///< corners, then mid-edge nodes of 0-1, 1-2, 2-0
  std::vector<int> face;                      ///< into the drawing's faces
  std::map<std::pair<int, int>, int> middle;  ///< {smaller, larger corner} -> mid-edge node
};

/// Adds mid-edge nodes. An arc's side stays straight where its bulge would fold a triangle, which
/// happens where an arc and a line touch; never on a circle of radius `keep` (m).
QuadraticMesh quadratic_mesh(const Arrangement& drawing, const CutDrawing& cut,
                             const Triangulation& triangles, const std::vector<int>& face_of,
                             const std::array<double, 2>& keep);

/// Jacobian of the triangle's map as six Bernstein coefficients (corners, then edges), twice the
/// area where constant. All positive: the map is one-to-one; their extremes bound the Jacobian.
std::array<double, 6> jacobian_bounds(const std::array<Eigen::Vector2d, 6>& x);

/// Figures over all triangles of the sector.
MeshQuality quality(const QuadraticMesh& mesh);

}  // namespace lodegear
