// mesh/pieces.h — curves cut at every point where they meet, coincident pieces kept once.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/arrangement.h"

namespace lodegear {

/// Points and edges of the drawing, faces not yet found. `tolerance` in m.
Arrangement cut_into_pieces(const std::vector<Curve>& curves, double tolerance);

/// Joins pieces of one curve again where nothing else meets them any more.
void join_pieces(Arrangement& a);

/// Finds the faces from the edges alone: sets faces (unlabelled) and each edge's left and right.
void find_faces(Arrangement& a);

/// A point well inside face f.
Eigen::Vector2d interior_point(const Arrangement& a, const ArrangementFace& f);

/// The curves of a loop in travelling order.
Loop loop_curves(const Arrangement& a, const std::vector<DirectedEdge>& loop);

}  // namespace lodegear
