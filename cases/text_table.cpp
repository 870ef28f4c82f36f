// cases/text_table.cpp — columns that line up on the screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/text_table.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace lodegear {

int width_of(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

namespace {

std::string spaces(int n) { return std::string(static_cast<std::size_t>(std::max(n, 0)), ' '); }

std::vector<int> column_widths(const std::vector<std::vector<std::string>>& rows) {
  std::vector<int> widths;
  for (const auto& row : rows)
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i == widths.size()) widths.push_back(0);
      widths[i] = std::max(widths[i], width_of(row[i]));
    }
  return widths;
}

}  // namespace

std::string text_table(const std::vector<std::vector<std::string>>& rows, int indent,
                       bool numbers) {
  const std::vector<int> widths = column_widths(rows);
  std::string text;
  for (const auto& row : rows) {
    std::string line = spaces(indent);
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::string fill = spaces(widths[i] - width_of(row[i]));
      line += (i > 0 ? "  " : "") + (numbers && i > 0 ? fill + row[i] : row[i] + fill);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

std::string wrapped(std::string_view text, std::string_view first, int width) {
  std::string all, line(first);
  const std::string margin = spaces(width_of(first));
  bool fresh = true;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (!fresh && width_of(line) + 1 + width_of(word) > width) {
      all += line + "\n";
      line = margin;
      fresh = true;
    }
    line.append(fresh ? "" : " ").append(word);
    fresh = false;
  }
  return all + line + "\n";
}

std::string significant(double x, int digits) {
  if (x == 0.0) return "0";
  const double size = std::abs(x);
  char buffer[64];
  std::to_chars_result end{};
  if (size < 1e-4 || size >= 1e7) {
    end =
        std::to_chars(buffer, buffer + sizeof buffer, x, std::chars_format::scientific, digits - 1);
  } else {
    const int decimals = digits - 1 - static_cast<int>(std::floor(std::log10(size)));
    end = std::to_chars(buffer, buffer + sizeof buffer, x, std::chars_format::fixed,
                        std::max(decimals, 0));
  }
  return std::string(buffer, end.ptr);
}

}  // namespace lodegear
