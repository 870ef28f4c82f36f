// cases/axial.h — where the members lie along the axis.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/gear.h"

namespace lodegear {

/// From one end to the other along the axis, m, measured from the middle of the machine.
struct AxialExtent {
  double from = 0.0;
  double to = 0.0;
  double length() const { return to - from; }
};

/// What all members present have in common: the field of the plane model is taken to exist there
/// and nowhere else. Not positive if members lie side by side without overlapping.
AxialExtent common_extent(const Gear& gear);

/// Whether the members end at different places.
bool has_overhang(const Gear& gear);

}  // namespace lodegear
