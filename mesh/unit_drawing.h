// mesh/unit_drawing.h — the smallest piece of a member that repeats, as outlines.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/member_limits.h"
#include "mesh/outline.h"

namespace lodegear {

//            upper side
//           /  ......  outer circle
//          / ..      .
//         /.          .          A member is n_sectors copies of a wedge between two radial
//        /. magnets,  .          sides. The sides are laid between bodies, on joints where bodies
//       /.  pieces   .           touch. Bodies of the neighbouring wedges are drawn too, so a body
//      / ............ .          that reaches over a side is cut by it and conforms with its copy.
//     axis --------------- lower side
struct UnitDrawing {
  Member member = Member::sun;
  Outline domain;                 ///< the wedge, or the whole annulus if n_sectors is 1
  std::vector<Outline> outlines;  ///< later overrule earlier
  double start_angle = 0.0;       ///< rad, of the lower side
  double angle = 0.0;             ///< rad, between the sides
  int n_sectors = 1;
  int bodies_per_sector = 1;
  int n_bodies = 1;
  int n_poles = 1;                ///< poles or pole pieces around the member
  double bridge_thickness = 0.0;  ///< m
  MemberLimits limits;
  bool operator==(const UnitDrawing&) const = default;
};

UnitDrawing unit_drawing(const Gear& gear, const MeshPlan& plan, Member member);
/// The same of the whole member as one sector: no body is cut by a side.
UnitDrawing whole_drawing(const Gear& gear, const MeshPlan& plan, Member member);

/// Number of bodies after which shapes and places repeat.
int bodies_per_sector(const Gear& gear, Member member);

}  // namespace lodegear
