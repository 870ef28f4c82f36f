// mesh/mesh_plan.h — where the member meshes end, and how fine they are.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/gear.h"
#include "mesh/member_mesh.h"

namespace lodegear {

/// How fine. `fineness` 2 halves every length of 1; `orders_*` is the number K of harmonics that
/// tie a gap. What is not given by hand comes from the ladder (mesh/ladder.h).
struct Resolution {
  double fineness = 1.0;
  int orders_inner_gap = 0;  ///< 0 = chosen from gap and radius
  int orders_outer_gap = 0;
  double edges_per_order = 2.6;  ///< of a gap circle, K times this; fewer than 2.2 harm
  /// A gap circle's edge is no longer than this times the part of the gap on the member's side.
  double longest_edge_in_layers = 5.0;
  double steel_corner = 12.0;  ///< local length over that at a corner of steel
};

/// The circles between which nothing is meshed: the annulus in the middle of a gap, where the field
/// is a sum of harmonics. In a gap with a sleeve it lies in the wider clear part.
struct GapAnnulus {
  double inner_radius = 0.0;  ///< outer circle of the member inside
  double outer_radius = 0.0;  ///< inner circle of the member outside
  int orders = 0;             ///< K
};

/// The annuli of the gear in use: inner and outer gap of a gear; for a coupling of sun and ring, or
/// a modulator with one rotor, the single gap. Ordered from inside to outside.
struct MeshPlan {
  std::vector<GapAnnulus> gaps;
  Resolution resolution;
};

/// Chooses annuli and orders. Expects a gear that passed check_gear.
MeshPlan mesh_plan(const Gear& gear, const Resolution& resolution);

class KeptMeshes;

/// Meshes of the members present, from inside to outside. Deterministic: same gear, same bits.
/// Those that `kept` holds are not made again. Throws std::runtime_error if a mesh cannot be made,
/// with the part concerned.
std::vector<MemberMesh> member_meshes(const Gear& gear, const MeshPlan& plan,
                                      KeptMeshes* kept = nullptr);

}  // namespace lodegear
