// mesh/shapes/sector_pole.h — pole pieces with straight sides between two arcs.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "mesh/shapes/shape.h"

namespace lodegear {

//        outer arc
//     ___________
//    (           )   corner_outer rounds these two
//     \    o    /    o rod hole on the centre line
//      \       /     straight sides between the spans
//       (_____)      corner_inner rounds these two
//        inner arc

std::vector<Outline> outlines(const SectorPole& pole, const Modulator& modulator, int index);
RadialExtent radial_extent(const SectorPole& pole, const Modulator& modulator);

/// Where a corner between the side at positive angle and an end circle is rounded, piece centred on
/// +x: the rounding's centre and its two ends. A sharp corner has all three in one point.
struct RoundedCorner {
  Eigen::Vector2d centre;
  Eigen::Vector2d on_side;
  Eigen::Vector2d on_circle;
};
/// None if a rounding of that size cannot touch both the side and the circle.
std::optional<RoundedCorner> inner_corner(const SectorPole& pole, const Modulator& modulator);
std::optional<RoundedCorner> outer_corner(const SectorPole& pole, const Modulator& modulator);

}  // namespace lodegear
