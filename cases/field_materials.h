// cases/field_materials.h — the materials of a case as the field solver wants them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/case.h"
#include "solver/field/field_problem.h"

namespace lodegear {

/// Reluctivities of steels (stacked, on the curve the case asks for) and sleeves, and magnets at
/// the temperature of their rotor, under the labels that the gear of the case uses.
FieldMaterials field_materials(const Case& c);

}  // namespace lodegear
