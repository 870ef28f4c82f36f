// mesh/check_gear.cpp — the whole gear: counts, members, gaps.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/check_gear.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "materials/words.h"
#include "mesh/check_parts.h"
#include "mesh/gear_keys.h"
#include "mesh/member_limits.h"

namespace lodegear {

std::string mm_text(double metres) { return rounded_text(metres * 1e3, 4) + " mm"; }
std::string deg_text(double radians) {
  return rounded_text(radians * 180.0 / std::numbers::pi, 3) + "°";
}

bool is_clear_or_touching(double distance) {
  return std::abs(distance) <= touching || distance >= thinnest_slit;
}

static void check_counts(const Gear& gear, Complaints& complaints) {
  if (!gear.sun || !gear.ring || !gear.modulator) return;
  const int p_s = gear.sun->pole_pairs, p_r = gear.ring->pole_pairs;
  const int n = gear.modulator->pole_pieces;
  complaints.require(n == p_s + p_r, GearKeys::pole_pieces,
                     "is " + std::to_string(n) + ", but " + std::to_string(p_s) + " and " +
                         std::to_string(p_r) + " pole pairs work together only through " +
                         std::to_string(p_s + p_r) + " pole pieces.");
}

std::vector<Complaint> check_gear(const Gear& gear) {
  Complaints complaints;
  complaints.require(gear.sun || gear.modulator || gear.ring, "gear",
                     "has no member; give at least one of sun, modulator and ring.");
  check_counts(gear, complaints);
  bool drawable = true;
  if (gear.sun) drawable &= check_rotor(*gear.sun, Member::sun, complaints);
  if (gear.modulator) drawable &= check_modulator(*gear.modulator, complaints);
  if (gear.ring) drawable &= check_rotor(*gear.ring, Member::ring, complaints);
  if (drawable) check_gaps(gear, complaints);
  return complaints.list();
}

GapClearance gap_clearance(const Gear& gear, Gap gap) {
  const std::vector<Member> members = members_present(gear);
  const Member above = gap == Gap::inner && gear.modulator ? Member::modulator : Member::ring;
  for (std::size_t i = 1; i < members.size(); ++i) {
    if (members[i] != above) continue;
    std::vector<ClearPart> parts = clear_parts(gear, static_cast<int>(i) - 1);
    const double magnetic = parts.back().outer - parts.front().inner;
    std::erase_if(parts, [](const ClearPart& p) { return p.length() <= touching; });
    if (parts.empty()) return {magnetic, 0.0, 0.0};
    return {magnetic, parts.front().length(), parts.back().length()};
  }
  return {};
}

}  // namespace lodegear
