// cases/ends_of_case.cpp — what the finite length of a case's stack costs and how it pulls.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/ends_of_case.h"

#include <algorithm>
#include <cmath>

namespace lodegear {

std::optional<EndEffectInput> ends_input(const Case& c) {
  const auto strength = [&](const std::string& label) {
    const MagnetInUse& magnet = c.magnets.at(label);
    return MagnetStrength{remanence(magnet.material, magnet.temperature), magnet.material.mu_rec};
  };
  return end_effect_input(c.gear, strength(c.gear.sun->magnet), strength(c.gear.ring->magnet));
}

std::vector<TorqueOfLength> torque_against_length(const EndEffectInput& input, double length,
                                                  double per_metre) {
  std::vector<TorqueOfLength> all;
  for (const double factor : {0.5, 1.0, 1.5, 2.0, 3.0}) {
    const double here = factor * length;
    const auto torque = [&](double overhang) {
      return per_metre * end_effect(with_stack(input, here, overhang)).effective_length;
    };
    all.push_back({here, torque(0.0), torque(0.1 * here)});
  }
  return all;
}

std::vector<AxialPull> axial_pulls(const EndEffectInput& input, double length) {
  std::vector<AxialPull> pulls;
  for (const Member m : {Member::sun, Member::ring}) {
    AxialPull pull;
    pull.member = m;
    pull.aside = 0.1 * length;
    const std::vector<double> offsets = {pull.aside, 0.5 * length, 0.8 * length, 0.95 * length};
    const std::vector<double> forces = axial_force_curve(input, m, offsets, 0.0);
    pull.pull = -forces.front();
    for (const double force : forces) pull.largest = std::max(pull.largest, std::abs(force));
    pulls.push_back(pull);
  }
  return pulls;
}

}  // namespace lodegear
