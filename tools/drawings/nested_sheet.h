// tools/drawings/nested_sheet.h — laminations side by side on a sheet of stock.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/case.h"
#include "tools/drawings/drawings.h"
#include "tools/drawings/flat_part.h"

namespace lodegear {

struct NestedSheet {
  double length = 0.0, width = 0.0;  ///< m, of the stock, along x and y
  std::vector<FlatPart> parts;       ///< one sheet full
  int wanted = 0;                    ///< laminations in all
  int sheets() const;
  /// Share of the sheet that becomes laminations.
  double used() const;
};

/// Rows of pieces, each turned by half a turn against the one before, so that wide ends lie beside
/// narrow ones; `web` and a kerf stay between neighbours and at the edge. Empty where nothing is
/// stamped. Throws InputError if a sheet that was asked for is too small.
NestedSheet nested_sheet(const Case& c, const DrawOptions& options);

/// sheet.dxf and sheet.svg.
Drawings sheet_files(const Case& c, const DrawOptions& options);

}  // namespace lodegear
