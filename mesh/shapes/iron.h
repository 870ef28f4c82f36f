// mesh/shapes/iron.h — hub and back iron.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/shapes/shape.h"

namespace lodegear {

/// The part of the cylinder between two angles (rad).
std::vector<Outline> iron_outlines(const Iron& iron, Member member, double from, double to);

}  // namespace lodegear
