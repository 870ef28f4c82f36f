// mesh/shapes/sleeve.h — sleeves, cans and walls in a gap.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/shapes/shape.h"

namespace lodegear {

/// The part of the sleeve between two angles (rad).
std::vector<Outline> sleeve_outlines(const Sleeve& sleeve, double from, double to);

}  // namespace lodegear
