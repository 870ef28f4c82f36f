// cases/studies/magnet_lots.cpp — drawing magnets and writing them into a case.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/magnet_lots.h"

#include <algorithm>
#include <cmath>

#include "cases/studies/changed_case.h"
#include "cases/studies/draws.h"
#include "cases/studies/points.h"
#include "cases/studies/varied_values.h"
#include "cases/units.h"

namespace lodegear {

namespace {

// What draws are for; points.cpp has the first ones.
constexpr std::uint32_t for_sun_magnets = 11, for_ring_magnets = 12;
// What a case file allows: read_rotor.cpp.
constexpr double most_strength = 2.0;

void add(TomlValue& table, const char* key, double value) {
  table.entries.push_back({key, {}, number_value(value)});
}

}  // namespace

std::vector<DrawnMagnet> drawn_magnets(const MagnetLot& lot, int count, std::uint32_t seed,
                                       int design) {
  Draws draws(seed, static_cast<std::uint32_t>(design),
              lot.member == Member::sun ? for_sun_magnets : for_ring_magnets);
  std::vector<DrawnMagnet> magnets(static_cast<std::size_t>(count));
  for (DrawnMagnet& magnet : magnets) {
    // Always four draws, so that another chance of one kind changes nothing of the others.
    magnet.strength = 1.0 + lot.strength_deviation * normal_quantile(draws.part());
    magnet.turned = lot.turned_deviation * normal_quantile(draws.part());
    magnet.weak = draws.part() < lot.weak_chance;
    magnet.reversed = draws.part() < lot.reversed_chance;
    if (magnet.weak) magnet.strength *= lot.weak_strength;
    magnet.strength = std::clamp(magnet.strength, 0.0, most_strength);
  }
  return magnets;
}

std::vector<std::string> lot_columns(const MagnetLot& lot) {
  const std::string member = name_of(lot.member);
  return {member + "_magnets_mean_strength_percent", member + "_magnets_turned_rms_deg",
          member + "_magnets_weak", member + "_magnets_reversed"};
}

std::vector<double> lot_values(const std::vector<DrawnMagnet>& magnets) {
  double strength = 0.0, square = 0.0, weak = 0.0, reversed = 0.0;
  for (const DrawnMagnet& magnet : magnets) {
    strength += magnet.reversed ? -magnet.strength : magnet.strength;
    square += magnet.turned * magnet.turned;
    weak += magnet.weak ? 1.0 : 0.0;
    reversed += magnet.reversed ? 1.0 : 0.0;
  }
  const double n = std::max<double>(1.0, static_cast<double>(magnets.size()));
  return {100 * strength / n, to_deg(std::sqrt(square / n)), weak, reversed};
}

void add_odd_magnets(TomlValue& root, const MagnetLot& lot,
                     const std::vector<DrawnMagnet>& magnets) {
  for (std::size_t i = 0; i < magnets.size(); ++i) {
    const DrawnMagnet& magnet = magnets[i];
    if (magnet.strength == 1.0 && magnet.turned == 0.0 && !magnet.reversed) continue;
    TomlValue table;
    add(table, "index", static_cast<double>(i));
    add(table, "strength_percent", 100 * magnet.strength);
    add(table, "turned_deg", to_deg(magnet.turned));
    TomlValue reversed;
    reversed.kind = TomlKind::boolean;
    reversed.boolean = magnet.reversed;
    table.entries.push_back({"reversed", {}, reversed});
    add_table(root, name_of(lot.member), "odd_magnet", table);
  }
}

}  // namespace lodegear
