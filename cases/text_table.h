// cases/text_table.h — columns that line up on the screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace lodegear {

/// Rows of cells as text, each column as wide as its widest cell, two spaces between, `indent`
/// spaces before. The first column stands left, the others right where `numbers`, else left too.
/// Widths count characters, not bytes, of UTF-8.
std::string text_table(const std::vector<std::vector<std::string>>& rows, int indent, bool numbers);

/// The text broken at spaces into lines of at most `width` characters; the first begins with
/// `first`, the others with as many spaces.
std::string wrapped(std::string_view text, std::string_view first, int width);

/// Characters of UTF-8, not bytes.
int width_of(std::string_view text);

/// `digits` significant digits without exponent from 1e-4 to 1e7: "12.35", "0.001235".
std::string significant(double x, int digits);

}  // namespace lodegear
