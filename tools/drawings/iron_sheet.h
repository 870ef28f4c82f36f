// tools/drawings/iron_sheet.h — dimensioned drawings of hub and back iron.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/case.h"
#include "tools/drawings/drawings.h"

namespace lodegear {

/// hub.svg and back_iron.svg, as far as the case has them.
Drawings iron_files(const Case& c);

}  // namespace lodegear
