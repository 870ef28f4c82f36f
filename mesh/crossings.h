// mesh/crossings.h — where two curves meet.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/outline.h"

namespace lodegear {

/// Distance of x from the curve, and the fraction of its length at which the nearest point lies.
struct NearestPoint {
  double distance = 0.0;  // m
  double t = 0.0;         // 0…1
};
NearestPoint nearest_point(const Curve& c, const Eigen::Vector2d& x);

/// Points common to both curves within `tolerance` (m), without those of overlapping pieces: an end
/// of one curve on the other is found for every pair, so overlaps are bounded by such points.
std::vector<Eigen::Vector2d> crossings(const Curve& a, const Curve& b, double tolerance);

}  // namespace lodegear
