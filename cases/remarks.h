// cases/remarks.h — what a builder should be told about a case, whatever the field turns out to be.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cases/case.h"

namespace lodegear {

/// Cautions to print with the results, a sentence or two each, in the user's own numbers: magnets
/// that are special orders, grain-oriented sheet, cautions and doubtful figures of the materials in
/// use, magnets warmer than they are sold for, tight clearances, members that pull sideways,
/// overhang, sleeves that conduct, guaranteed curves that nobody guarantees, odd magnets.
std::vector<std::string> remarks(const Case& c);

}  // namespace lodegear
