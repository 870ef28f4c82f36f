// mesh/shapes/block_magnets.cpp — drawing blocks.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/block_magnets.h"

#include <algorithm>
#include <limits>

#include "mesh/crossings.h"
#include "mesh/magnet_patterns.h"

namespace lodegear {

static Loop block(const BlockMagnets& blocks, const MagnetRotor& rotor, int index, double margin) {
  const double angle = magnet_centre_angle(rotor, index);
  return rectangle(polar(blocks.centre_radius, angle), blocks.thickness + 2 * margin,
                   blocks.width + 2 * margin, angle + body_angle(rotor, index));
}

std::vector<Eigen::Vector2d> block_corners(const BlockMagnets& blocks, const MagnetRotor& rotor,
                                           int index, double margin) {
  std::vector<Eigen::Vector2d> corners;
  for (const Curve& side : block(blocks, rotor, index, margin)) corners.push_back(side.from);
  return corners;
}

std::vector<Outline> outlines(const BlockMagnets& blocks, const MagnetRotor& rotor, int index) {
  std::vector<Outline> drawn;
  if (blocks.clearance > 0.0)
    drawn.push_back({{block(blocks, rotor, index, blocks.clearance)}, air_label()});
  drawn.push_back({{block(blocks, rotor, index, 0.0)}, magnet_label(rotor, index)});
  return drawn;
}

RadialExtent radial_extent(const BlockMagnets& blocks, const MagnetRotor& rotor) {
  RadialExtent extent{std::numeric_limits<double>::max(), 0.0};
  for (int i = 0; i < n_magnets(rotor); ++i)
    for (const Curve& side : block(blocks, rotor, i, 0.0)) {
      extent.outer = std::max(extent.outer, side.from.norm());
      extent.inner = std::min(extent.inner, nearest_point(side, Eigen::Vector2d::Zero()).distance);
    }
  return extent;
}

}  // namespace lodegear
