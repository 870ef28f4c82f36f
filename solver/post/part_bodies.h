// solver/post/part_bodies.h — which triangles, edges and nodes of a mesh belong to which part.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "solver/post/part_forces.h"

namespace lodegear {

/// An edge of the mesh, once, as seen from one triangle whose corner `local` it leaves
/// counter-clockwise.
struct MeshEdge {
  int triangle = -1, local = 0;
  int beyond_triangle = -1, beyond_local = 0;  ///< −1: the mesh ends here
  int beyond_body = -1;                        ///< −1: air, or a boundary circle
};

/// How much of a node belongs to a part; the shares of a node add up to 1 or are empty.
struct Share {
  int body;
  double part;
};

/// Everything that is no air, cut into parts: each region, and each hole of the mesh, which is iron
/// of infinite permeability.
struct PartBodies {
  std::vector<PartLoad> parts;   ///< loads still zero
  std::vector<int> of_triangle;  ///< −1 = air
  std::vector<MeshEdge> edges;   ///< all where something else is on the other side
  /// Of each corner node, the air's too: whose the stress around it is. Where parts meet they share
  /// evenly; in the air between, the nearest part has it all.
  std::vector<std::vector<Share>> shares;
};
PartBodies part_bodies(const FieldMember& member);

}  // namespace lodegear
