// materials/words.cpp — pieces of sentences for messages.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/words.h"

#include <charconv>
#include <cmath>

namespace lodegear {

std::string number_text(double x) {
  char buffer[64];
  const double size = std::abs(x);
  const bool plain = x == 0.0 || (size >= 1e-4 && size < 1e9);
  const auto format = plain ? std::chars_format::fixed : std::chars_format::general;
  const std::to_chars_result end = std::to_chars(buffer, buffer + sizeof buffer, x, format);
  return std::string(buffer, end.ptr);
}

std::string rounded_text(double x, int decimals) {
  const double scale = std::pow(10.0, decimals);
  return number_text(std::round(x * scale) / scale);
}

std::string in_quotes(std::string_view word) {
  return std::string(1, '"').append(word).append(1, '"');
}

std::string listed(const std::vector<std::string>& words, std::string_view last_joint) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? last_joint : std::string_view(", ");
    text += words[i];
  }
  return text;
}

std::string index_text(std::size_t index) {
  return std::string("[").append(std::to_string(index + 1)).append("]");
}

}  // namespace lodegear
