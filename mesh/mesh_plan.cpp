// mesh/mesh_plan.cpp — splitting the gaps and choosing how many harmonics tie them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mesh_plan.h"

#include <algorithm>
#include <cmath>

#include "mesh/ladder.h"
#include "mesh/member_limits.h"

namespace lodegear {

namespace {

// Part of the clear gap that is left to the harmonics, in its middle. The rest on either side holds
// one layer of elements; less than a third would flatten it, more than a half would let order K
// carry too much.
constexpr double annulus_part = 0.4;
// The torque of order k crosses the gap as exp(−k g/r). A coupling carries torque in every order of
// its poles: K = 5.5 r/g leaves out some 1e-5 of it. A gear carries its mean in two low orders, but
// its cogging in many: 4 r/g keeps both within 3e-4 of slip torque where cogging is strong. Orders
// above K are not lost, they only do not reach the other side.
constexpr double orders_of_coupling = 5.5;
constexpr double orders_of_gear = 4.0;
constexpr int fewest_orders = 24;
constexpr int most_orders = 260;
// Torque ripple has the orders LCM(2 p_s, n): it needs K a little above that number.
constexpr double orders_over_ripple = 1.05;

int chosen_orders(const Gear& gear, double inner, double outer) {
  const double per_radius_over_gap = gear.modulator ? orders_of_gear : orders_of_coupling;
  double orders = std::ceil(per_radius_over_gap * (inner + outer) / 2 / (outer - inner));
  const int ripple = ripple_order(gear);
  if (ripple <= highest_ripple_order) orders = std::max(orders, orders_over_ripple * ripple);
  const double bounded = std::clamp(std::ceil(orders), 1.0 * fewest_orders, 1.0 * most_orders);
  return static_cast<int>(bounded);
}

GapAnnulus gap_annulus(const Gear& gear, int gap_index) {
  const std::vector<ClearPart> parts = clear_parts(gear, gap_index);
  const ClearPart widest = *std::max_element(
      parts.begin(), parts.end(),
      [](const ClearPart& a, const ClearPart& b) { return a.length() < b.length(); });
  const double side = (1.0 - annulus_part) / 2 * widest.length();
  return {widest.inner + side, widest.outer - side,
          chosen_orders(gear, parts.front().inner, parts.back().outer)};
}

/// Orders the user asked for in the gap inside member `upper`, 0 = none.
int asked_orders(const Gear& gear, Member upper, const Resolution& resolution) {
  if (gear.modulator)
    return upper == Member::modulator ? resolution.orders_inner_gap : resolution.orders_outer_gap;
  return std::max(resolution.orders_inner_gap, resolution.orders_outer_gap);
}

}  // namespace

MeshPlan mesh_plan(const Gear& gear, const Resolution& resolution) {
  MeshPlan plan{{}, resolution};
  const std::vector<Member> members = members_present(gear);
  for (std::size_t i = 1; i < members.size(); ++i) {
    GapAnnulus gap = gap_annulus(gear, static_cast<int>(i) - 1);
    const int asked = asked_orders(gear, members[i], resolution);
    if (asked > 0) gap.orders = asked;
    plan.gaps.push_back(gap);
  }
  return plan;
}

}  // namespace lodegear
