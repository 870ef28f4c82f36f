// tools/drawings/kerf.h — outlines moved outwards, for the width of a cutter's beam or for a fit.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "tools/drawings/flat_part.h"

namespace lodegear {

/// The part with every edge moved away from its material by `by` (m, positive): the outline grows,
/// holes shrink. Outer corners get an arc about the corner, inner ones stay sharp. Throws
/// InputError naming `option` where a hole or an inner edge is too small for it.
FlatPart grown(const FlatPart& part, double by, const std::string& option);

}  // namespace lodegear
