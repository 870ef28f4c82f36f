// tools/report/table.h — a table of numbers as the result folders hold them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace lodegear {

/// Columns of a CSV file by their header; cells as text.
struct Table {
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;

  bool empty() const { return rows.empty(); }
  /// Of one column, NaN where a cell is empty or no number; of a column that is missing, none.
  std::vector<double> numbers(std::string_view column) const;
  std::vector<std::string> texts(std::string_view column) const;
  /// The rows in which `column` says `text`.
  Table where(std::string_view column, std::string_view text) const;

 private:
  std::optional<std::size_t> place(std::string_view column) const;
};

/// Reads comma-separated text, with quotes as in RFC 4180, as cases/csv_files.h writes it.
Table csv_table(std::string_view text);

}  // namespace lodegear
