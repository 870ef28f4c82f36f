// tools/report/print_page.h — a page on paper, by a browser that is installed.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>

namespace lodegear {

/// Prints an HTML file to a PDF by Chromium. Throws WriteError if none is installed or it fails;
/// the page itself can be printed from any browser then.
void print_page(const std::filesystem::path& page, const std::filesystem::path& pdf);

}  // namespace lodegear
