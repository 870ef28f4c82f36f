// mesh/member_limits.h — radii between which a member is meshed, and how its end circles are cut.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/mesh_plan.h"
#include "mesh/shapes/shape.h"

namespace lodegear {

/// Members present, from inside to outside.
std::vector<Member> members_present(const Gear& gear);

/// Radii between which the steel and magnets of a member lie: bodies, iron, bridges. Sleeves not.
RadialExtent solid_extent(const Gear& gear, Member member);

/// Sleeves of the gap between two neighbours, from inside to outside; `gap_index` counts the gaps
/// between members present. −1 = what lies inside the innermost member, the last = outside all.
std::vector<std::size_t> sleeve_indices(const Gear& gear, int gap_index);
std::vector<Sleeve> sleeves_between(const Gear& gear, int gap_index);

/// A clear part of a gap: nothing but air between two radii.
struct ClearPart {
  double inner = 0.0;
  double outer = 0.0;
  double length() const { return outer - inner; }
};
/// Clear parts of gap `gap_index` from inside to outside, one more than it has sleeves.
std::vector<ClearPart> clear_parts(const Gear& gear, int gap_index);

/// An end of a member's mesh.
struct EndCircle {
  double radius = 0.0;  ///< m; 0 = the axis
  int n_edges = 0;      ///< at least, over the full circle
  bool is_gap = false;
  bool operator==(const EndCircle&) const = default;
};
struct MemberLimits {
  EndCircle inner;
  EndCircle outer;
  std::vector<Sleeve> sleeves;  ///< those meshed with this member
  bool operator==(const MemberLimits&) const = default;
};
MemberLimits member_limits(const Gear& gear, const MeshPlan& plan, Member member);

/// Poles of a magnet rotor, pole pieces of the modulator.
int n_poles(const Gear& gear, Member member);
/// Magnets or pole pieces around the member.
int n_bodies(const Gear& gear, Member member);
const MagnetRotor& rotor_of(const Gear& gear, Member member);

}  // namespace lodegear
