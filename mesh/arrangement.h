// mesh/arrangement.h — overlapping outlines cut into faces that touch along whole edges.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <vector>

#include "mesh/outline.h"

namespace lodegear {

//      outlines, later over earlier            faces
//      +-----------+                      +-----------+
//      |  A  +-----+---+                  |  A  +-----+      every edge has one face on its left
//      |     |  B  :   |        ->        |     |  B  |      and one on its right; what lies
//      outside
//      +-----+- - -+   |                  +-----+-----+      the domain A, or is cut out, is no
//      face
//            +---------+                                     to be meshed

/// A piece of a curve between two points with no other point on it.
struct ArrangementEdge {
  int from = 0;  ///< into points
  int to = 0;
  Curve curve;      ///< from `from` to `to`
  int source = -1;  ///< the curve of the drawing it is a piece of
  int left = -1;    ///< face, −1 = outside everything
  int right = -1;
};

/// Edge travelled forwards or backwards.
struct DirectedEdge {
  int edge = 0;
  bool forward = true;
};

struct ArrangementFace {
  std::vector<std::vector<DirectedEdge>> loops;  ///< outer one counter-clockwise, holes clockwise
  std::optional<MeshRegion> label;               ///< none: outside the domain
};

struct Arrangement {
  std::vector<Eigen::Vector2d> points;
  std::vector<ArrangementEdge> edges;
  std::vector<ArrangementFace> faces;
};

/// Points nearer than this fraction of the drawing's size are one point. Two orders above the
/// round-off of an intersection of curves that meet at an angle of more than 1e-4.
inline constexpr double coincidence_tolerance = 1e-9;

/// Faces of the drawing inside `domain`, each labelled by the last outline that holds it. Edges
/// between faces of one label are dissolved.
Arrangement arrangement(const Outline& domain, const std::vector<Outline>& outlines);

/// Area of face f, m².
double area(const Arrangement& a, const ArrangementFace& f);

}  // namespace lodegear
