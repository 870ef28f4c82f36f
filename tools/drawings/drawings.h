// tools/drawings/drawings.h — files that are ready, and sheets of paper that become files.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "tools/drawings/draw_options.h"
#include "tools/drawings/page.h"

namespace lodegear {

/// Sheets by their names without ending, as "hub".
using Sheets = std::vector<std::pair<std::string, Page>>;

struct Drawings {
  Files files;
  Sheets sheets;
};

}  // namespace lodegear
