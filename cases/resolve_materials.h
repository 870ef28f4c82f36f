// cases/resolve_materials.h — from the names in a case file to materials.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/case.h"
#include "cases/read_gear.h"
#include "materials/catalogue.h"
#include "materials/toml_file.h"

namespace lodegear {

// [materials.<name>]    a material of one's own; it takes precedence over the catalogue
//   kind                "steel" | "magnet" | "other"; the remaining keys are those of
//                       read_material.h, by kind

/// Reads [materials], looks up every name that the gear of `into` uses, fills magnets, steels and
/// others, and puts the labels of these lists into the gear. What is wrong goes to `log`, which is
/// that of `root`.
void resolve_materials(TableReader& root, const TomlDocument& document, const GearInFile& in_file,
                       const Catalogue& catalogue, ReadLog& log, Case& into);

}  // namespace lodegear
