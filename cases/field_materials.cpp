// cases/field_materials.cpp — laws of the field from materials in use.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/field_materials.h"

namespace lodegear {

FieldMaterials field_materials(const Case& c) {
  FieldMaterials materials;
  materials.reluctivity.emplace(air_name, Reluctivity::constant(nu0));
  for (const auto& [label, steel] : c.steels)
    materials.reluctivity.emplace(
        label, reluctivity(steel.material, steel.stacking_factor, c.steel_curve));
  for (const auto& [name, other] : c.others)
    materials.reluctivity.emplace(name, Reluctivity::constant(nu0 / other.mu_r));
  for (const auto& [label, magnet] : c.magnets)
    materials.magnets[label] = {remanence(magnet.material, magnet.temperature),
                                magnet.material.mu_rec};
  return materials;
}

}  // namespace lodegear
