// mesh/cut_drawing.h — nodes along the edges of a drawing.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <map>
#include <utility>
#include <vector>

#include "mesh/arrangement.h"
#include "mesh/gmsh_session.h"
#include "mesh/mesh_size.h"
#include "mesh/unit_drawing.h"

namespace lodegear {

/// Every edge of the drawing as a chain of straight sides. On end circles the nodes are evenly
/// spaced; on the upper side they are the lower side's nodes turned; elsewhere the size field sets
/// their distances.
struct CutDrawing {
  std::vector<Eigen::Vector2d> nodes;   ///< the drawing's points first
  std::vector<std::vector<int>> along;  ///< edge: nodes from `from` to `to`; empty = not meshed
  std::map<int, int> lower_of;          ///< upper-side node -> its copy on the lower side
  std::map<std::pair<int, int>, int> edge_of_side;  ///< {smaller, larger node} -> edge
};

/// True if the face is to be meshed: inside the domain and not ideal iron.
bool is_meshed(const Arrangement& drawing, int face);

CutDrawing cut_drawing(const UnitDrawing& unit, const Arrangement& drawing, const SizeField& size);

/// Polygons of the faces that are meshed; `face_of` gives the drawing's face of each.
PolygonFaces polygons(const Arrangement& drawing, const CutDrawing& cut, std::vector<int>& face_of);

/// Middle of the side between two nodes, on the arc if the side belongs to one.
Eigen::Vector2d middle_on_curve(const Arrangement& drawing, const CutDrawing& cut, int a, int b);

/// Edges of the drawing on the circle about the axis, in counter-clockwise order from the unit's
/// start angle, each as its nodes in that order. Empty if none is meshed.
std::vector<std::vector<int>> chains_on_circle(const UnitDrawing& unit, const Arrangement& drawing,
                                               const CutDrawing& cut, double radius);

}  // namespace lodegear
