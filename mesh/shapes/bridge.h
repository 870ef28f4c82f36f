// mesh/shapes/bridge.h — thin rings that hold pole pieces together.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/shapes/shape.h"

namespace lodegear {

/// Radii of the bridge's two faces.
RadialExtent bridge_extent(const Modulator& modulator);
/// The part of the bridge between two angles (rad); the pole pieces are drawn over it, so what
/// stays are the webs in the slots.
std::vector<Outline> bridge_outlines(const Modulator& modulator, double from, double to);

}  // namespace lodegear
