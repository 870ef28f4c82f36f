// tests/mesh/mesh_checks.h — what is true of every member mesh.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "mesh/member_mesh.h"

namespace lodegear {

/// Area of the curved triangle t, m².
double triangle_area(const MemberMesh& mesh, int t);
/// Areas by part name, m².
std::map<std::string, double> part_areas(const MemberMesh& mesh);

/// Triangles at each edge {smaller, larger corner node}.
std::map<std::pair<int, int>, std::vector<int>> triangles_at_edges(const MemberMesh& mesh);

/// Largest distance between a node of sector j and the node of sector 0 turned there, over the
/// outermost radius; the axis left out.
double symmetry_error(const MemberMesh& mesh);
/// Largest distance of a circle's nodes from their even places, over its radius.
double circle_error(const MemberMesh& mesh, const BoundaryCircle& circle);

/// Checks all of it: counter-clockwise, positive Jacobians, edges shared by two triangles but on
/// circles (and `open_edges_allowed`: ideal iron), one mid-edge node an edge, each node used,
/// exact symmetry, even circles, and triangles of sector j being those of sector 0 turned.
void check_member_mesh(const MemberMesh& mesh, bool open_edges_allowed);

}  // namespace lodegear
