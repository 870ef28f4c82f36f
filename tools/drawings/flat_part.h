// tools/drawings/flat_part.h — a part as its cross-section: one outline, and holes in it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/gear.h"
#include "mesh/outline.h"

namespace lodegear {

/// Lengths in m, angles in rad, in the frame of the member it belongs to.
struct FlatPart {
  MeshRegion label;         ///< part, material, which around the member
  Loop outline;             ///< counter-clockwise
  std::vector<Loop> holes;  ///< clockwise
};

double area(const FlatPart& part);             // m²
double length_of_cut(const FlatPart& part);    // m, outline and holes
FlatPart turned(FlatPart part, double angle);  ///< about the origin
FlatPart moved(FlatPart part, const Eigen::Vector2d& by);
Loop moved(Loop loop, const Eigen::Vector2d& by);
Loop turned(Loop loop, double angle);

struct Extent {
  Eigen::Vector2d low, high;
  Eigen::Vector2d size() const { return high - low; }
};
/// The smallest upright rectangle around the loop, arcs included.
Extent extent(const Loop& loop);

/// Least distance between two loops that do not cross, m, from points all along both.
double distance(const Loop& a, const Loop& b);

/// A loop that is one whole circle.
struct WholeCircle {
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  double radius = 0.0;
};
bool is_circle(const Loop& loop, WholeCircle& circle);

/// The faces of overlapping outlines, later over earlier, that are not air. Ideal iron is a part
/// too. `domain` is left out itself unless it is labelled as something.
std::vector<FlatPart> flat_parts(const Outline& domain, const std::vector<Outline>& outlines);

}  // namespace lodegear
