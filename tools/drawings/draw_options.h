// tools/drawings/draw_options.h — what a workshop wants its drawings to be like.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace lodegear {

/// Lengths in m.
struct DrawOptions {
  double kerf = 0.0;       ///< width of the cutter's beam; outlines are moved by half of it
  double fit = 0.15e-3;    ///< clearance of a printed pocket around a pole piece, every side
  double relief = 0.5e-3;  ///< radius of the relief in the corners of a pocket; 0 = none
  double plate = 3e-3;     ///< thickness of the plate that carriers stand on; 0 = none
  /// Stock sheet that laminations are cut from; 0 = the smallest usual one on which one fits.
  double sheet_length = 0.0, sheet_width = 0.0;
  double web = 1e-3;  ///< left between neighbours on the sheet and at its edge
  double arm = 0.5;   ///< lever arm on the bench
  std::optional<double> sun_magnet_price, ring_magnet_price;  ///< of one, in whatever money
};

/// Name and contents of every file.
using Files = std::vector<std::pair<std::string, std::string>>;

}  // namespace lodegear
