// mesh/shapes/arc_magnets.cpp — drawing arc magnets.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/arc_magnets.h"

#include <numbers>

#include "mesh/magnet_patterns.h"

namespace lodegear {

std::vector<Outline> outlines(const ArcMagnets& arcs, const MagnetRotor& rotor, int index) {
  const double centre = magnet_centre_angle(rotor, index);
  const double half = arcs.coverage * std::numbers::pi / n_magnets(rotor);
  return {{annular_sector(rotor.inner_radius, rotor.outer_radius, centre - half, centre + half),
           magnet_label(rotor, index)}};
}

RadialExtent radial_extent(const ArcMagnets&, const MagnetRotor& rotor) {
  return {rotor.inner_radius, rotor.outer_radius};
}

}  // namespace lodegear
