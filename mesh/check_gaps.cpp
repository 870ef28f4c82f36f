// mesh/check_gaps.cpp — room between members and for sleeves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "mesh/check_parts.h"
#include "mesh/gear_keys.h"
#include "mesh/member_limits.h"

namespace lodegear {

namespace {

// Thinner gaps would need more harmonics and edges than a plane model is worth.
constexpr double thinnest_gap_over_radius = 1.0 / 2000;

const char* gap_name(const Gear& gear, Member above) {
  if (!gear.modulator) return "gap";
  return above == Member::modulator ? "inner gap" : "outer gap";
}

/// "the ring begins at 36.4 mm"
std::string begins(const Gear& gear, Member member) {
  return std::string("the ") + name_of(member) + " begins at " +
         mm_text(solid_extent(gear, member).inner);
}

/// True if there is a gap between two neighbours at all.
bool check_gap(const Gear& gear, Member below, Member above, Complaints& complaints) {
  const double from = solid_extent(gear, below).outer, to = solid_extent(gear, above).inner;
  const std::string key = surface_key(gear, below, true);
  const std::string reaches = std::string("the ") + name_of(below) + " reaches to " + mm_text(from);
  const std::string gap = gap_name(gear, above);
  if (!complaints.require(to - from > touching, key,
                          "leaves no " + gap + ": " + reaches + " and " + begins(gear, above) +
                              ". Make the one smaller or " + surface_key(gear, above, false) +
                              " larger."))
    return false;
  const double thinnest = thinnest_gap_over_radius * from;
  return complaints.require(to - from >= thinnest, key,
                            "leaves an " + gap + " of " + mm_text(to - from) + " only (" + reaches +
                                ", " + begins(gear, above) + "); below " + mm_text(thinnest) +
                                " at this radius it cannot be computed.");
}

bool turns_with(const Sleeve& sleeve, std::optional<Member> member) {
  if (!member) return false;
  switch (sleeve.turns_with) {
    case TurnsWith::sun:
      return member == Member::sun;
    case TurnsWith::modulator:
      return member == Member::modulator;
    case TurnsWith::ring:
      return member == Member::ring;
    default:
      return false;
  }
}

bool check_sleeve(const Gear& gear, std::size_t index, Complaints& complaints) {
  const Sleeve& s = gear.sleeves[index];
  const bool absent = (s.turns_with == TurnsWith::sun && !gear.sun) ||
                      (s.turns_with == TurnsWith::modulator && !gear.modulator) ||
                      (s.turns_with == TurnsWith::ring && !gear.ring);
  complaints.require(!absent, sleeve_key(index, "turns_with"),
                     "names a member that this gear does not have.");
  if (!complaints.require(s.inner_radius > 0.0, sleeve_key(index, "inner_radius_mm"),
                          "is " + mm_text(s.inner_radius) + "; it must be more than nothing."))
    return false;
  return complaints.require(s.outer_radius - s.inner_radius >= thinnest_slit,
                            sleeve_key(index, "outer_radius_mm"),
                            "is " + mm_text(s.outer_radius) + ", no more than the inner radius " +
                                mm_text(s.inner_radius) + ".");
}

/// One thing beside a sleeve: a member or another sleeve.
struct Neighbour {
  std::string name;
  double radius = 0.0;
  bool turns_along = false;
};

void check_room(const std::string& key, const Sleeve& s, const Neighbour& other, double room,
                bool below, Complaints& complaints) {
  const std::string face = below ? "the sleeve's inner radius " + mm_text(s.inner_radius)
                                 : "the sleeve's outer radius " + mm_text(s.outer_radius);
  const std::string there =
      other.name + (below ? " reaches to " : " begins at ") + mm_text(other.radius);
  if (room < -touching) {
    complaints.add(key, "overlaps: " + face + " lies in something else; " + there + ".");
  } else if (room <= touching) {
    complaints.require(other.turns_along, key,
                       "leaves no running clearance: " + there +
                           " and does not turn with the sleeve. Leave some tenths of a "
                           "millimetre, or name it in turns_with.");
  } else {
    complaints.require(room >= thinnest_slit, key,
                       "leaves a slit of " + mm_text(room) + ": " + there +
                           ". Let them touch, or leave at least 0.001 mm.");
  }
}

bool belong_together(const Sleeve& a, const Sleeve& b) { return a.turns_with == b.turns_with; }

/// Everything below and above a sleeve in one space between members.
void check_space(const Gear& gear, int space, std::optional<Member> below,
                 std::optional<Member> above, Complaints& complaints) {
  const std::vector<std::size_t> indices = sleeve_indices(gear, space);
  for (std::size_t i = 0; i < indices.size(); ++i) {
    const Sleeve& s = gear.sleeves[indices[i]];
    if (i > 0) {
      const Sleeve& before = gear.sleeves[indices[i - 1]];
      check_room(sleeve_key(indices[i], "inner_radius_mm"), s,
                 {"sleeve " + std::to_string(indices[i - 1] + 1), before.outer_radius,
                  belong_together(s, before)},
                 s.inner_radius - before.outer_radius, true, complaints);
    } else if (below) {
      const double r = solid_extent(gear, *below).outer;
      check_room(sleeve_key(indices[i], "inner_radius_mm"), s,
                 {std::string("the ") + name_of(*below), r, turns_with(s, below)},
                 s.inner_radius - r, true, complaints);
    }
    if (i + 1 == indices.size() && above) {
      const double r = solid_extent(gear, *above).inner;
      check_room(sleeve_key(indices[i], "outer_radius_mm"), s,
                 {std::string("the ") + name_of(*above), r, turns_with(s, above)},
                 r - s.outer_radius, false, complaints);
    }
  }
}

/// What the sleeves leave free must be enough to turn in.
void check_clear_parts(const Gear& gear, int space, Member above, Complaints& complaints) {
  double widest = 0.0;
  const std::vector<ClearPart> parts = clear_parts(gear, space);
  for (const ClearPart& part : parts) widest = std::max(widest, part.length());
  const double thinnest = thinnest_gap_over_radius / 2 * parts.front().inner;
  const auto indices = sleeve_indices(gear, space);
  if (indices.empty()) return;
  complaints.require(widest >= thinnest, sleeve_key(indices.front(), "outer_radius_mm"),
                     std::string("leaves no clear part in the ") + gap_name(gear, above) +
                         ": at least " + mm_text(thinnest) + " must stay free beside sleeves.");
}

}  // namespace

void check_gaps(const Gear& gear, Complaints& complaints) {
  bool good = true;
  for (std::size_t i = 0; i < gear.sleeves.size(); ++i) good &= check_sleeve(gear, i, complaints);
  const std::vector<Member> members = members_present(gear);
  const auto n = static_cast<int>(members.size());
  for (int i = 1; i < n; ++i)
    good &= check_gap(gear, members[static_cast<std::size_t>(i) - 1],
                      members[static_cast<std::size_t>(i)], complaints);
  if (!good) return;
  for (int space = -1; space < n; ++space) {
    const auto at = [&](int i) {
      return i < 0 || i >= n ? std::nullopt : std::optional(members[static_cast<std::size_t>(i)]);
    };
    const std::size_t before = complaints.list().size();
    check_space(gear, space, at(space), at(space + 1), complaints);
    const bool between = at(space) && at(space + 1);
    if (between && complaints.list().size() == before)
      check_clear_parts(gear, space, *at(space + 1), complaints);
  }
}

}  // namespace lodegear
