// mesh/shapes/spoke_magnets.cpp — drawing spoke magnets and their wedges.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/spoke_magnets.h"

#include <cmath>
#include <numbers>

#include "mesh/magnet_patterns.h"

namespace lodegear {

static Outline half_wedge(const SpokeMagnets& spokes, const MagnetRotor& rotor, int wedge,
                          double from, double to) {
  const int n = n_magnets(rotor);
  return {annular_sector(rotor.inner_radius, rotor.outer_radius, from, to),
          {RegionKind::steel, spokes.wedge_steel, "wedge", wedge % n}};
}

static Loop spoke(double width, double r_inner, double r_outer, double centre) {
  const double at_inner = std::asin(width / (2 * r_inner));
  const double at_outer = std::asin(width / (2 * r_outer));
  const Eigen::Vector2d axis = Eigen::Vector2d::Zero();
  Loop loop = arc(axis, r_outer, centre - at_outer, centre + at_outer);
  loop.push_back(line(polar(r_outer, centre + at_outer), polar(r_inner, centre + at_inner)));
  for (const Curve& c : arc(axis, r_inner, centre + at_inner, centre - at_inner)) loop.push_back(c);
  loop.push_back(line(polar(r_inner, centre - at_inner), polar(r_outer, centre - at_outer)));
  return loop;
}

std::vector<Outline> outlines(const SpokeMagnets& spokes, const MagnetRotor& rotor, int index) {
  const double centre = magnet_centre_angle(rotor, index);
  const double half = std::numbers::pi / n_magnets(rotor);
  return {half_wedge(spokes, rotor, index, centre - half, centre),
          half_wedge(spokes, rotor, index + 1, centre, centre + half),
          {{spoke(spokes.width, rotor.inner_radius, rotor.outer_radius, centre)},
           magnet_label(rotor, index)}};
}

RadialExtent radial_extent(const SpokeMagnets&, const MagnetRotor& rotor) {
  return {rotor.inner_radius, rotor.outer_radius};
}

}  // namespace lodegear
