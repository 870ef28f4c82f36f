// mesh/shapes/round_bar.cpp — drawing round bars.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/round_bar.h"

#include <numbers>

namespace lodegear {

std::vector<Outline> outlines(const RoundBar& bar, const Modulator& modulator, int index) {
  const double angle = 2 * std::numbers::pi * index / modulator.pole_pieces;
  return {{{circle(polar(bar.centre_radius, angle), bar.diameter / 2)},
           pole_piece_label(modulator, index)}};
}

RadialExtent radial_extent(const RoundBar& bar, const Modulator&) {
  return {bar.centre_radius - bar.diameter / 2, bar.centre_radius + bar.diameter / 2};
}

}  // namespace lodegear
