// mesh/shapes/iron.cpp — drawing hub and back iron.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/iron.h"

namespace lodegear {

std::vector<Outline> iron_outlines(const Iron& iron, Member member, double from, double to) {
  const char* part = member == Member::sun ? "hub" : "back iron";
  return {{annular_sector(iron.inner_radius, iron.outer_radius, from, to),
           {RegionKind::steel, iron.material, part, -1}}};
}

}  // namespace lodegear
