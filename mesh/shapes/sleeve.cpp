// mesh/shapes/sleeve.cpp — drawing sleeves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/sleeve.h"

namespace lodegear {

std::vector<Outline> sleeve_outlines(const Sleeve& sleeve, double from, double to) {
  return {{annular_sector(sleeve.inner_radius, sleeve.outer_radius, from, to),
           {RegionKind::sleeve, sleeve.material, "sleeve", -1}}};
}

}  // namespace lodegear
