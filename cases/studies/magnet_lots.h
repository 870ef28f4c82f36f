// cases/studies/magnet_lots.h — which magnets of a design are weak, turned or the wrong way round.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cases/studies/study.h"

namespace lodegear {

/// One magnet as it was drawn.
struct DrawnMagnet {
  double strength = 1.0;  ///< part of its grade's remanence; at least 0
  double turned = 0.0;    ///< rad
  bool weak = false;
  bool reversed = false;
};

/// All magnets of the lot's member in design number `design`, from 0.
std::vector<DrawnMagnet> drawn_magnets(const MagnetLot& lot, int count, std::uint32_t seed,
                                       int design);

/// What a study tells of them, one column each: "sun_magnets_mean_strength_percent",
/// "sun_magnets_turned_rms_deg", "sun_magnets_weak", "sun_magnets_reversed".
std::vector<std::string> lot_columns(const MagnetLot& lot);
std::vector<double> lot_values(const std::vector<DrawnMagnet>& magnets);

/// As [[sun.odd_magnet]] or [[ring.odd_magnet]] of a case file.
void add_odd_magnets(TomlValue& root, const MagnetLot& lot,
                     const std::vector<DrawnMagnet>& magnets);

}  // namespace lodegear
