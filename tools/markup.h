// tools/markup.h — text within HTML and SVG.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace lodegear {

/// Text with <, >, &, " made harmless; a control character, which XML has no place for, but a
/// tab or the end of a line becomes a space.
inline std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    if (c == '<')
      safe += "&lt;";
    else if (c == '>')
      safe += "&gt;";
    else if (c == '&')
      safe += "&amp;";
    else if (c == '"')
      safe += "&quot;";
    else
      safe += static_cast<unsigned char>(c) < 32 && c != '\n' && c != '\t' ? ' ' : c;
  }
  return safe;
}

}  // namespace lodegear
