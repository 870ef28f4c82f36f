// tools/report/table.cpp — a table of numbers as the result folders hold them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/table.h"

#include <algorithm>
#include <charconv>
#include <limits>

namespace lodegear {

namespace {

/// Takes the cells of the next line off the text.
std::vector<std::string> next_line(std::string_view& text) {
  std::vector<std::string> cells = {""};
  bool quoted = false;
  std::size_t i = 0;
  for (; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '"' && quoted && i + 1 < text.size() && text[i + 1] == '"') {
      cells.back() += c;
      ++i;
    } else if (c == '"' && (quoted || cells.back().empty())) {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else if (c == '\n' && !quoted) {
      ++i;
      break;
    } else {
      cells.back() += c;
    }
  }
  text.remove_prefix(i);
  return cells;
}

double number(const std::string& cell) {
  double value = 0.0;
  const auto read = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  const bool whole = read.ec == std::errc() && read.ptr == cell.data() + cell.size();
  return whole ? value : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

std::optional<std::size_t> Table::place(std::string_view column) const {
  const auto found = std::find(columns.begin(), columns.end(), column);
  if (found == columns.end()) return std::nullopt;
  return static_cast<std::size_t>(found - columns.begin());
}

std::vector<std::string> Table::texts(std::string_view column) const {
  std::vector<std::string> all;
  const auto at = place(column);
  if (!at) return all;
  for (const auto& row : rows) all.push_back(*at < row.size() ? row[*at] : std::string());
  return all;
}

std::vector<double> Table::numbers(std::string_view column) const {
  std::vector<double> all;
  for (const std::string& cell : texts(column)) all.push_back(number(cell));
  return all;
}

Table Table::where(std::string_view column, std::string_view text) const {
  Table some{columns, {}};
  const auto at = place(column);
  for (const auto& row : rows)
    if (at && *at < row.size() && row[*at] == text) some.rows.push_back(row);
  return some;
}

Table csv_table(std::string_view text) {
  Table table;
  while (!text.empty()) {
    std::vector<std::string> cells = next_line(text);
    if (table.columns.empty())
      table.columns = std::move(cells);
    else if (cells.size() > 1 || !cells.front().empty())
      table.rows.push_back(std::move(cells));
  }
  return table;
}

}  // namespace lodegear
