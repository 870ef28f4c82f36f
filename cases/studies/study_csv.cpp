// cases/studies/study_csv.cpp — all designs of a study as comma-separated text.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <charconv>

#include "cases/csv_files.h"
#include "cases/studies/design_figures.h"
#include "cases/studies/study_table.h"

namespace lodegear {

std::optional<std::vector<double>> numbers_of_column(const StudyTable& table, std::size_t column) {
  std::vector<double> numbers;
  for (const DesignRow& row : table.rows) {
    const std::string& text = row.cells[column];
    double x = 0.0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), x);
    if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
    numbers.push_back(x);
  }
  return numbers;
}

std::string unit_of(const std::string& figure) {
  const DesignFigure* found = design_figure(figure);
  return found ? found->unit : std::string();
}

std::string study_csv(const StudyTable& table) {
  std::string text = "design,state";
  for (const std::string& column : table.record.columns) text += "," + text_cell(column);
  for (const std::string& figure : table.record.figures) text += "," + figure;
  text += ",remark\n";
  for (const DesignRow& row : table.rows) {
    text += std::to_string(row.number) + "," + name_of(row.outcome.state);
    for (const std::string& value : row.cells) text += "," + text_cell(value);
    for (const auto& figure : row.outcome.figures)
      text += "," + (figure ? cell(*figure) : std::string());
    text += "," + text_cell(row.outcome.remark) + "\n";
  }
  return text;
}

}  // namespace lodegear
