// mesh/sides.h — the two radial sides of a sector and what lies opposite on them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/arrangement.h"
#include "mesh/unit_drawing.h"

namespace lodegear {

/// A point or edge on the lower side and its copy on the upper side.
struct SidePair {
  int lower = 0;
  int upper = 0;
};

/// From the axis outwards. Empty for a whole member. The axis itself is its own copy and no pair.
/// Throws std::runtime_error if a point has no copy.
std::vector<SidePair> side_points(const UnitDrawing& unit, const Arrangement& drawing);
/// Edges likewise; both run outwards or both inwards is not promised.
std::vector<SidePair> side_edges(const UnitDrawing& unit, const Arrangement& drawing);

}  // namespace lodegear
