// materials/words.h — pieces of sentences for messages.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace lodegear {

/// The shortest text that reads back as the same number, with a dot whatever the locale: 0.3, 250.
std::string number_text(double x);

/// The number rounded to that many decimals, without trailing zeros.
std::string rounded_text(double x, int decimals);

/// The word between double quotes.
std::string in_quotes(std::string_view word);

/// "a, b or c" with last_joint = " or ".
std::string listed(const std::vector<std::string>& words, std::string_view last_joint);

/// "[1]" for index 0: people count from one.
std::string index_text(std::size_t index);

}  // namespace lodegear
