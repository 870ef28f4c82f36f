// mesh/kept_meshes.h — meshes of members that do not change from one gear to the next.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/last_used.h"
#include "mesh/member_mesh.h"
#include "mesh/unit_drawing.h"

namespace lodegear {

/// All that a member's mesh depends on.
struct MeshOrder {
  UnitDrawing unit;
  double fineness = 1.0, steel_corner = 0.0;
  bool operator==(const MeshOrder&) const = default;
};

class KeptMeshes : public LastUsed<MeshOrder, MemberMesh> {
 public:
  using LastUsed::LastUsed;
};

}  // namespace lodegear
