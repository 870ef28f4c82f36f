// cases/studies/study_findings.cpp — spreads and sensitivities of every figure of a study.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_findings.h"

namespace lodegear {

namespace {

/// Of the columns that vary, those that are numbers.
struct NumberColumns {
  std::vector<std::size_t> index;
  std::vector<std::vector<double>> values;
};

NumberColumns number_columns(const StudyTable& table) {
  NumberColumns columns;
  for (std::size_t i = 0; i < table.record.columns.size(); ++i)
    if (auto numbers = numbers_of_column(table, i)) {
      columns.index.push_back(i);
      columns.values.push_back(std::move(*numbers));
    }
  return columns;
}

std::vector<double> taken(const std::vector<double>& all, const std::vector<std::size_t>& which) {
  std::vector<double> some;
  for (const std::size_t i : which) some.push_back(all[i]);
  return some;
}

std::optional<double> base_value(const StudyTable& table, std::size_t row, std::size_t figure) {
  return row < table.base.size() ? table.base[row].outcome.figures[figure] : std::nullopt;
}

FigureFindings findings_of(const StudyTable& table, const NumberColumns& numbers,
                           std::size_t figure) {
  FigureFindings found;
  found.name = table.record.figures[figure];
  found.base = base_value(table, 0, figure);
  found.base_finer = base_value(table, 1, figure);
  found.sensitivities.resize(table.record.columns.size());
  std::vector<std::size_t> known;
  std::vector<double> y;
  for (std::size_t i = 0; i < table.rows.size(); ++i)
    if (const auto value = table.rows[i].outcome.figures[figure]) {
      known.push_back(i);
      y.push_back(*value);
    }
  found.spreading = spreading(y);
  std::vector<std::vector<double>> columns;
  for (const auto& column : numbers.values) columns.push_back(taken(column, known));
  const auto regression = standardised_regression(columns, y);
  if (regression) found.r_squared = regression->r_squared;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    Sensitivity& s = found.sensitivities[numbers.index[i]];
    s.rank_correlation = rank_correlation(columns[i], y);
    if (regression && s.rank_correlation) s.regression = regression->coefficients[i];
  }
  for (std::size_t i = 0; i < table.record.columns.size(); ++i) {
    if (numbers_of_column(table, i)) continue;
    std::vector<std::string> groups;
    for (const std::size_t row : known) groups.push_back(table.rows[row].cells[i]);
    found.sensitivities[i].group_share = group_share(groups, y);
  }
  return found;
}

}  // namespace

std::vector<FigureFindings> study_findings(const StudyTable& table) {
  const NumberColumns numbers = number_columns(table);
  std::vector<FigureFindings> all;
  for (std::size_t i = 0; i < table.record.figures.size(); ++i)
    all.push_back(findings_of(table, numbers, i));
  return all;
}

StateCounts state_counts(const StudyTable& table) {
  StateCounts counts;
  for (const DesignRow& row : table.rows) {
    counts.good += row.outcome.state == DesignState::good;
    counts.unsure += row.outcome.state == DesignState::unsure;
    counts.failed += row.outcome.state == DesignState::failed;
  }
  return counts;
}

bool is_drawn(const Study& study) {
  return study.how != Sampling::list && study.how != Sampling::grid && !is_search(study.how);
}

}  // namespace lodegear
