// mesh/shapes/spoke_magnets.h — magnets buried between steel wedges.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/shapes/shape.h"

namespace lodegear {

/// The halves of the two wedges beside magnet `index`, and the magnet: parallel sides, ends on the
/// circles of the band. Wedge j lies between magnets j−1 and j, wedge 0 on +x.
std::vector<Outline> outlines(const SpokeMagnets& spokes, const MagnetRotor& rotor, int index);
RadialExtent radial_extent(const SpokeMagnets& spokes, const MagnetRotor& rotor);

}  // namespace lodegear
