// tools/drawings/carrier_files.h — carriers, cage and end ring as DXF, sheets and solids.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/case.h"
#include "tools/drawings/drawings.h"

namespace lodegear {

/// sun_carrier.*, ring_carrier.*, cage.*, drilling_template.*, as far as the case has them.
Drawings carrier_files(const Case& c, const DrawOptions& options);

}  // namespace lodegear
