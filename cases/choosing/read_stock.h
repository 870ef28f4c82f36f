// cases/choosing/read_stock.h — a list of blocks that can be had.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <vector>

#include "cases/choosing/wish.h"

namespace lodegear {

// [[block]]             one entry for equal blocks, at most 40
//   width_mm, length_mm   two sides; either may lie along the axis
//   thickness_mm          the side along which it is magnetised
//   grade                 a magnet of the catalogue
//   name                  Default: its sides, as "20 x 10 x 5"
//   price                 of one, in any currency; all blocks have one or none
//   count                 how many there are. Default: enough

/// Throws InputError with all complaints at once, each with file, line and column.
std::vector<StockBlock> read_stock(const std::filesystem::path& path, const Catalogue& catalogue);

}  // namespace lodegear
