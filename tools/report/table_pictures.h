// tools/report/table_pictures.h — pictures of what the result tables say of every triangle.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "tools/report/table.h"

namespace lodegear {

// SVG of the cross-section with all members at angle zero; nothing without rows.

/// Where the magnets come near the knee, from magnet_margin.csv.
std::string margin_picture(const Table& margin);

/// Where losses arise, from loss_density.csv.
std::string loss_picture(const Table& loss);

}  // namespace lodegear
