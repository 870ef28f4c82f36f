// materials/toml_text.h — looking at the text of a file: bytes that cannot be, and plainer
// messages. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "materials/toml_value.h"

namespace lodegear {

struct TextFault {
  TomlPosition at;
  std::string text;
};

/// What makes these bytes no text we read: too long, not UTF-8, a zero byte, or a dotted key so
/// long that the tree would be too deep. Nothing if they may go on to the parser.
std::optional<TextFault> fault_of_bytes(std::string_view text);

/// The lines without their ends.
std::vector<std::string_view> lines_of(std::string_view text);

/// What stands from `begin` up to `end` on one line; empty if they are on different lines.
std::string text_between(const std::vector<std::string_view>& lines, TomlPosition begin,
                         TomlPosition end);

/// The parser's message in plain words with a hint for the usual slips (3,5 · 50 mm · True · words
/// without quotes), and with the position of the key for a key that stands twice.
TextFault explained(const std::string& message, TomlPosition at,
                    const std::vector<std::string_view>& lines);

}  // namespace lodegear
