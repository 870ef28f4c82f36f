// mesh/shapes/round_bar.h — pole pieces that are round bars.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/shapes/shape.h"

namespace lodegear {

std::vector<Outline> outlines(const RoundBar& bar, const Modulator& modulator, int index);
RadialExtent radial_extent(const RoundBar& bar, const Modulator& modulator);

}  // namespace lodegear
