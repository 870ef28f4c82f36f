// mesh/ladder.cpp — one number for how fine everything is.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/ladder.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "mesh/member_limits.h"

namespace lodegear {

namespace {

constexpr int fewest_orders = 24;
constexpr int most_orders = 400;
// A coupling carries torque in every order of its poles.
constexpr double coupling_needs_more = 1.4;

constexpr double beyond_working_order = 1.2;

int most_pole_pairs(const Gear& gear) {
  return std::max(gear.sun ? gear.sun->pole_pairs : 0, gear.ring ? gear.ring->pole_pairs : 0);
}

double part_of_full_orders(const Gear& gear) {
  if (!gear.modulator) return coupling_needs_more;
  const int ripple = ripple_order(gear);
  if (ripple == 0) return 1.0;
  return std::clamp(1.0 - 0.4 * std::log(ripple / 32.0) / std::log(3.0), 0.6, 1.0);
}

int orders_at(const Gear& gear, int gap, double level, bool carry_ripple) {
  const std::vector<ClearPart> parts = clear_parts(gear, gap);
  const double inner = parts.front().inner, outer = parts.back().outer;
  double orders = part_of_full_orders(gear) * (2.0 + level) * (inner + outer) / 2 / (outer - inner);
  if (carry_ripple) {
    // Ripple of order N comes from pairs of orders with k ± k' = N, where k' is an odd multiple of
    // the sun's pole pairs. More of these pairs on each rung, or their difference would not show
    // what K leaves out.
    const int pole_pairs = gear.sun ? gear.sun->pole_pairs : gear.ring->pole_pairs;
    orders = std::max(orders, ripple_order(gear) + pole_pairs * (3.0 + 2.0 * level));
  }
  // Without the working orders there is no torque at all, however wide the gap.
  orders = std::max(orders, beyond_working_order * most_pole_pairs(gear));
  return static_cast<int>(std::ceil(std::clamp(orders, 1.0 * fewest_orders, 1.0 * most_orders)));
}

}  // namespace

int ripple_order(const Gear& gear) {
  const MagnetRotor* rotor = gear.sun ? &*gear.sun : gear.ring ? &*gear.ring : nullptr;
  if (!rotor || !gear.modulator) return 0;
  return std::lcm(2 * rotor->pole_pairs, gear.modulator->pole_pieces);
}

Resolution resolution_for(const Gear& gear, double level, bool carry_ripple) {
  Resolution resolution;
  const double f = 0.35 * std::exp2(level / 2);
  resolution.fineness = f;
  resolution.edges_per_order = 2.2 * std::exp2(level / 6) / std::max(1.0, f);
  resolution.longest_edge_in_layers = 1.8 / f * std::max(1.0, f);
  resolution.steel_corner = std::clamp(24.0 * f * f, 4.0, 60.0);
  const auto last = static_cast<int>(members_present(gear).size()) - 2;
  if (last >= 0) {
    resolution.orders_inner_gap = orders_at(gear, 0, level, carry_ripple);
    resolution.orders_outer_gap = orders_at(gear, last, level, carry_ripple);
  }
  return resolution;
}

}  // namespace lodegear
