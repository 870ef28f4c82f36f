// mesh/shapes/shape.h — what every shape of a magnet or a pole piece tells about itself.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/gear.h"
#include "mesh/outline.h"

namespace lodegear {

// A new shape is one pair of files here with `outlines` and `radial_extent` for it, one line in the
// variant of gear.h and one include in shapes.cpp.

/// Radii between which solid parts (steel or magnet) lie, m.
struct RadialExtent {
  double inner = 0.0;
  double outer = 0.0;
};

MeshRegion magnet_label(const MagnetRotor& rotor, int index);
MeshRegion pole_piece_label(const Modulator& modulator, int index);
MeshRegion air_label();

/// Outlines of magnet or pole piece `index` in drawing order: pockets and neighbours of its own
/// first, the body later, holes in it last.
std::vector<Outline> body_outlines(const MagnetRotor& rotor, int index);
std::vector<Outline> body_outlines(const Modulator& modulator, int index);

/// Of the magnets (and wedges) or pole pieces, without iron, bridges and sleeves.
RadialExtent body_extent(const MagnetRotor& rotor);
RadialExtent body_extent(const Modulator& modulator);

}  // namespace lodegear
