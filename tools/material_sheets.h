// tools/material_sheets.h — a material in a line, and in full.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "materials/catalogue.h"

namespace lodegear {

/// Name, main figures, confidence, source.
std::vector<std::string> material_row(const Catalogue& catalogue, MaterialKind kind,
                                      const std::string& name);

/// Everything that is known of it, one figure a line.
std::string material_sheet(const Catalogue& catalogue, MaterialKind kind, const std::string& name);

}  // namespace lodegear
