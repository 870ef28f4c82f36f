// tools/drawings/pdf.h — pages as one PDF, true to size; its source is the only door to cairo and
// fontconfig. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "tools/drawings/drawings.h"

namespace lodegear {

/// A page a sheet, each as large as its paper; a list of contents with the sheets' names. Words
/// stay words. No date is in it: the same sheets give the same bytes. Throws std::runtime_error.
std::string pdf_bytes(const Sheets& sheets, const std::string& title);

}  // namespace lodegear
