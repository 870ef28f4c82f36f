// mesh/member_limits.cpp — extents of members, sleeves and gaps.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/member_limits.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/magnet_patterns.h"

namespace lodegear {

using std::numbers::pi;

namespace {

// Where nothing else ends a mesh it goes on for this part of a pole pitch beyond the magnets or
// pole pieces: there their slot harmonics have died away to exp(−0.3π) of the fundamental's order
// and below, and the circle need not be fine.
constexpr double free_air_in_pole_pitches = 0.3;
// The bore circle of a member without hub keeps at least this part of the member's inner radius.
constexpr double smallest_bore = 0.3;
// Edges of bore and outside circles for every pole, and in free air beside magnets or pole pieces
// for each of these: their slot harmonics are followed with some five curved edges a wavelength,
// and no more than a tenth of them is left there.
constexpr int edges_per_pole = 8;
constexpr int edges_per_body = 4;
// And at least so many in all: no arc of an edge above 7.5°.
constexpr int fewest_edges = 48;
// A coupling carries torque in its highest orders too, which need more edges than those of a gear.
constexpr double coupling_needs_more = 3.0 / 2.6;

std::optional<Gap> gap_below(const Gear& gear, Member upper) {
  if (!gear.modulator) return std::nullopt;
  return upper == Member::modulator ? std::optional(Gap::inner)
         : upper == Member::ring    ? std::optional(Gap::outer)
                                    : std::nullopt;
}

/// Whether a sleeve lies in the space below member number `i` of those present.
bool lies_below(const Gear& gear, const std::vector<Member>& members, std::size_t i,
                const Sleeve& sleeve) {
  // One gap only, or none: sleeves of rotors alone lie on the side that faces the absent partner.
  if (!gear.modulator) {
    if (members.size() == 2) return i == 1;
    return members[0] == Member::ring ? i == 0 : i == 1;
  }
  if (i < members.size() && gap_below(gear, members[i]) == sleeve.gap) return true;
  if (i == members.size()) return members.back() == Member::modulator && sleeve.gap == Gap::outer;
  return i == 0 && members[0] == Member::modulator && sleeve.gap == Gap::inner;
}

}  // namespace

std::vector<Member> members_present(const Gear& gear) {
  std::vector<Member> members;
  if (gear.sun) members.push_back(Member::sun);
  if (gear.modulator) members.push_back(Member::modulator);
  if (gear.ring) members.push_back(Member::ring);
  return members;
}

const MagnetRotor& rotor_of(const Gear& gear, Member member) {
  return member == Member::sun ? *gear.sun : *gear.ring;
}

int n_poles(const Gear& gear, Member member) {
  return member == Member::modulator ? gear.modulator->pole_pieces
                                     : 2 * rotor_of(gear, member).pole_pairs;
}

int n_bodies(const Gear& gear, Member member) {
  return member == Member::modulator ? gear.modulator->pole_pieces
                                     : n_magnets(rotor_of(gear, member));
}

RadialExtent solid_extent(const Gear& gear, Member member) {
  if (member == Member::modulator) {
    RadialExtent extent = body_extent(*gear.modulator);
    if (gear.modulator->bridge) {
      extent.inner = std::min(extent.inner, gear.modulator->inner_radius);
      extent.outer = std::max(extent.outer, gear.modulator->outer_radius);
    }
    return extent;
  }
  const MagnetRotor& rotor = rotor_of(gear, member);
  RadialExtent extent = body_extent(rotor);
  if (!rotor.iron) return extent;
  return {std::min(extent.inner, rotor.iron->inner_radius),
          std::max(extent.outer, rotor.iron->outer_radius)};
}

std::vector<std::size_t> sleeve_indices(const Gear& gear, int gap_index) {
  const std::vector<Member> members = members_present(gear);
  std::vector<std::size_t> indices;
  for (std::size_t i = 0; i < gear.sleeves.size(); ++i)
    if (lies_below(gear, members, static_cast<std::size_t>(gap_index) + 1, gear.sleeves[i]))
      indices.push_back(i);
  std::sort(indices.begin(), indices.end(), [&gear](std::size_t a, std::size_t b) {
    return gear.sleeves[a].inner_radius < gear.sleeves[b].inner_radius;
  });
  return indices;
}

std::vector<Sleeve> sleeves_between(const Gear& gear, int gap_index) {
  std::vector<Sleeve> sleeves;
  for (std::size_t i : sleeve_indices(gear, gap_index)) sleeves.push_back(gear.sleeves[i]);
  return sleeves;
}

std::vector<ClearPart> clear_parts(const Gear& gear, int gap_index) {
  const std::vector<Member> members = members_present(gear);
  const auto i = static_cast<std::size_t>(gap_index);
  std::vector<ClearPart> parts;
  double from = solid_extent(gear, members[i]).outer;
  for (const Sleeve& sleeve : sleeves_between(gear, gap_index)) {
    parts.push_back({from, sleeve.inner_radius});
    from = sleeve.outer_radius;
  }
  parts.push_back({from, solid_extent(gear, members[i + 1]).inner});
  return parts;
}

static int edges_of_gap(const Gear& gear, const GapAnnulus& gap, double radius, double layer,
                        const Resolution& resolution) {
  const double by_orders =
      (gear.modulator ? 1.0 : coupling_needs_more) * resolution.edges_per_order * gap.orders;
  const double by_layer = 2 * pi * radius / (resolution.longest_edge_in_layers * layer);
  return static_cast<int>(
      std::ceil(std::max(by_orders, by_layer) * std::max(1.0, resolution.fineness)));
}

static int edges_of_free_circle(const Gear& gear, Member member, bool at_iron, double fineness) {
  const int by_bodies = at_iron ? 0 : edges_per_body * n_bodies(gear, member);
  const int edges = std::max({edges_per_pole * n_poles(gear, member), by_bodies, fewest_edges});
  return static_cast<int>(std::ceil(edges * std::max(1.0, fineness)));
}

/// Enough edges that none bulges by more than a quarter of a thin wall: h²/(8 r) ≤ t/4.
static int edges_at_wall(const Iron& iron, bool at_inner_face, int edges) {
  const double r = at_inner_face ? iron.inner_radius : iron.outer_radius;
  const double longest = std::sqrt(2 * r * (iron.outer_radius - iron.inner_radius));
  return r > 0.0 ? std::max(edges, static_cast<int>(std::ceil(2 * pi * r / longest))) : edges;
}

static EndCircle free_inner(const Gear& gear, const MeshPlan& plan, Member member) {
  const bool at_hub = member == Member::sun && gear.sun->iron;
  const int edges = edges_of_free_circle(gear, member, at_hub, plan.resolution.fineness);
  if (at_hub)
    return {gear.sun->iron->inner_radius, edges_at_wall(*gear.sun->iron, true, edges), false};
  double inner = solid_extent(gear, member).inner;
  for (const Sleeve& s : sleeves_between(gear, -1)) inner = std::min(inner, s.inner_radius);
  const double pitch = 2 * pi * inner / n_poles(gear, member);
  return {std::max(inner - free_air_in_pole_pitches * pitch, smallest_bore * inner), edges, false};
}

static EndCircle free_outer(const Gear& gear, const MeshPlan& plan, Member member) {
  const bool at_iron = member == Member::ring && gear.ring->iron;
  const int edges = edges_of_free_circle(gear, member, at_iron, plan.resolution.fineness);
  if (at_iron)
    return {gear.ring->iron->outer_radius, edges_at_wall(*gear.ring->iron, false, edges), false};
  double outer = solid_extent(gear, member).outer;
  const auto last = static_cast<int>(members_present(gear).size()) - 1;
  for (const Sleeve& s : sleeves_between(gear, last)) outer = std::max(outer, s.outer_radius);
  const double pitch = 2 * pi * outer / n_poles(gear, member);
  return {outer + free_air_in_pole_pitches * pitch, edges, false};
}

MemberLimits member_limits(const Gear& gear, const MeshPlan& plan, Member member) {
  const std::vector<Member> members = members_present(gear);
  const auto i =
      static_cast<int>(std::find(members.begin(), members.end(), member) - members.begin());
  const auto last = static_cast<int>(members.size()) - 1;
  const RadialExtent solid = solid_extent(gear, member);
  MemberLimits limits{free_inner(gear, plan, member), free_outer(gear, plan, member), {}};
  if (i > 0) {
    const GapAnnulus& gap = plan.gaps[static_cast<std::size_t>(i) - 1];
    const double r = gap.outer_radius;
    limits.inner = {r, edges_of_gap(gear, gap, r, solid.inner - r, plan.resolution), true};
  }
  if (i < last) {
    const GapAnnulus& gap = plan.gaps[static_cast<std::size_t>(i)];
    const double r = gap.inner_radius;
    limits.outer = {r, edges_of_gap(gear, gap, r, r - solid.outer, plan.resolution), true};
  }
  for (int gap : {i - 1, i})
    for (const Sleeve& s : sleeves_between(gear, gap))
      if (s.inner_radius > limits.inner.radius && s.outer_radius < limits.outer.radius)
        limits.sleeves.push_back(s);
  return limits;
}

}  // namespace lodegear
