// mesh/shapes/arc_magnets.h — magnets that are annular sectors.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/shapes/shape.h"

namespace lodegear {

/// The sector of the band that magnet `index` fills.
std::vector<Outline> outlines(const ArcMagnets& arcs, const MagnetRotor& rotor, int index);
RadialExtent radial_extent(const ArcMagnets& arcs, const MagnetRotor& rotor);

}  // namespace lodegear
