// mesh/shapes/block_magnets.h — rectangular stock blocks in pockets.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/shapes/shape.h"

namespace lodegear {

/// The pocket (air, the block grown by its clearance) and the block in it, turned by body_angle.
std::vector<Outline> outlines(const BlockMagnets& blocks, const MagnetRotor& rotor, int index);
/// Nearest and farthest point of any block.
RadialExtent radial_extent(const BlockMagnets& blocks, const MagnetRotor& rotor);

/// Corners of block `index`, grown by `margin` (m) on every side, counter-clockwise.
std::vector<Eigen::Vector2d> block_corners(const BlockMagnets& blocks, const MagnetRotor& rotor,
                                           int index, double margin);

}  // namespace lodegear
