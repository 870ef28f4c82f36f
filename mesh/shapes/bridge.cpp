// mesh/shapes/bridge.cpp — drawing bridges.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/bridge.h"

namespace lodegear {

RadialExtent bridge_extent(const Modulator& modulator) {
  const Bridge& bridge = *modulator.bridge;
  const double middle = (modulator.inner_radius + modulator.outer_radius) / 2;
  double from = modulator.inner_radius;
  if (bridge.place == BridgePlace::middle) from = middle - bridge.thickness / 2;
  if (bridge.place == BridgePlace::outer) from = modulator.outer_radius - bridge.thickness;
  return {from, from + bridge.thickness};
}

std::vector<Outline> bridge_outlines(const Modulator& modulator, double from, double to) {
  const RadialExtent radii = bridge_extent(modulator);
  return {{annular_sector(radii.inner, radii.outer, from, to),
           {RegionKind::steel, modulator.material, "bridge", -1}}};
}

}  // namespace lodegear
