// tools/drawings/svg.h — a page as SVG, true to size.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "tools/drawings/page.h"

namespace lodegear {

/// One user unit is a millimetre; arcs stay arcs. Needs no style sheet, font file or script.
std::string svg_text(const Page& page);

}  // namespace lodegear
