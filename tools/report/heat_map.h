// tools/report/heat_map.h — a figure over two others, as coloured cells with their numbers.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "tools/report/table.h"

namespace lodegear {

/// Efficiency over speed (across) and load (down) from efficiency_map.csv; empty without rows.
/// Cells say their number, so that colour is not needed.
std::string efficiency_map_figure(const Table& efficiency);

}  // namespace lodegear
