// cases/studies/study_text.cpp — what a study comes to, for the screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

#include "cases/csv_files.h"
#include "cases/studies/design_figures.h"
#include "cases/studies/study_best.h"
#include "cases/studies/study_findings.h"
#include "cases/studies/study_summary.h"
#include "cases/text_table.h"
#include "materials/words.h"

namespace lodegear {

namespace {

using Rows = std::vector<std::vector<std::string>>;

constexpr std::size_t best_shown = 5;
constexpr int line_width = 100;

/// As in the table, where 0.9999999999999 is 1.
double rounded(double x) {
  const std::string text = cell(x);
  std::from_chars(text.data(), text.data() + text.size(), x);
  return x;
}

std::string cell_or_dash(const std::optional<double>& x, int digits = 4) {
  return x ? significant(rounded(*x), digits) : "-";
}

std::string heading(const StudyTable& table) {
  const StateCounts counts = state_counts(table);
  std::string text = table.record.name + ": " + std::to_string(table.rows.size()) + " designs (" +
                     table.record.how + ")";
  if (counts.unsure > 0) text += ", " + std::to_string(counts.unsure) + " unsure";
  if (counts.failed > 0)
    text += ", " + std::to_string(counts.failed) + " cannot be built or have no solution";
  return text + "\n";
}

/// The reason that most failed designs have, as an example.
std::string failures(const StudyTable& table) {
  std::map<std::string, int> reasons;
  for (const DesignRow& row : table.rows)
    if (row.outcome.state == DesignState::failed) ++reasons[row.outcome.remark];
  if (reasons.empty()) return {};
  const auto most = std::max_element(reasons.begin(), reasons.end(),
                                     [](auto& a, auto& b) { return a.second < b.second; });
  return wrapped("for example: " + most->first, "  ", line_width) + "\n";
}

std::string best_text(const StudyTable& table) {
  if (!table.study.best) return {};
  const Best& best = *table.study.best;
  const auto good = ranked(table.rows, table.record.figures, best, best_shown);
  std::string text = std::string("\nBest: ") + (best.largest ? "largest " : "smallest ") +
                     best.figure + (best.limits.empty() ? "" : " within the limits") + "\n";
  if (good.empty()) return text + "  no design keeps the limits\n";
  Rows rows(1, {"design", best.figure});
  for (const Limit& limit : best.limits) rows.front().push_back(limit.figure);
  for (const std::string& column : table.record.columns) rows.front().push_back(column);
  for (const DesignRow* row : good) {
    rows.push_back({std::to_string(row->number),
                    cell_or_dash(figure_of(*row, table.record.figures, best.figure))});
    for (const Limit& limit : best.limits)
      rows.back().push_back(cell_or_dash(figure_of(*row, table.record.figures, limit.figure)));
    for (std::size_t i = 0; i < row->cells.size(); ++i) {
      const auto numbers = numbers_of_column(table, i);
      rows.back().push_back(
          numbers ? significant((*numbers)[static_cast<std::size_t>(row->number - 1)], 5)
                  : row->cells[i]);
    }
  }
  return text + text_table(rows, 2, true);
}

std::string spread_text(const StudyTable& table, const std::vector<FigureFindings>& all) {
  const bool drawn = is_drawn(table.study);
  Rows rows(1, drawn ? std::vector<std::string>{"", "base case", "mean", "std. dev.", "5 %", "50 %",
                                                "95 %", ""}
                     : std::vector<std::string>{"", "base case", "smallest", "largest", ""});
  for (const FigureFindings& found : all) {
    if (!found.spreading) continue;
    const Spreading& s = *found.spreading;
    std::vector<std::string> row{found.name, cell_or_dash(found.base)};
    if (drawn)
      for (const auto& x : {std::optional(s.mean), s.deviation, std::optional(s.p5),
                            std::optional(s.p50), std::optional(s.p95)})
        row.push_back(cell_or_dash(x));
    else
      for (const double x : {s.smallest, s.largest}) row.push_back(cell_or_dash(x));
    row.push_back(unit_of(found.name));
    rows.push_back(row);
  }
  if (rows.size() == 1) return {};
  return std::string("\nFigures") + (drawn ? "; so many per cent of the designs lie below" : "") +
         "\n" + text_table(rows, 2, true);
}

/// How much the first parameter of the list matters most.
double weight(const Sensitivity& s) {
  if (s.regression) return std::abs(*s.regression);
  if (s.group_share) return std::sqrt(*s.group_share);
  return s.rank_correlation ? std::abs(*s.rank_correlation) : -1.0;
}

std::string sensitivity_text(const StudyTable& table, const FigureFindings& found) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < table.record.columns.size(); ++i)
    if (weight(found.sensitivities[i]) >= 0.0) order.push_back(i);
  if (order.empty()) return {};
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return weight(found.sensitivities[a]) > weight(found.sensitivities[b]);
  });
  Rows rows(1, {"", "regression", "rank correlation"});
  for (const std::size_t i : order) {
    const Sensitivity& s = found.sensitivities[i];
    rows.push_back(
        {table.record.columns[i],
         s.group_share ? "share " + significant(*s.group_share, 2) : cell_or_dash(s.regression, 2),
         cell_or_dash(s.rank_correlation, 2)});
  }
  std::string text = "\nWhat matters to " + found.name + ", in standard deviations";
  if (found.r_squared)
    text += " (together they account for " + rounded_text(100 * *found.r_squared, 1) +
            " % of its variance)";
  return text + "\n" + text_table(rows, 2, true);
}

std::string mesh_text(const StudyTable& table, const std::vector<FigureFindings>& all) {
  if (table.record.accuracy)
    return "\nEach design was refined until its error was estimated below " +
           number_text(100 * *table.record.accuracy) +
           " % of the slip torque; those that are unsure tell in study.csv what they reached.\n";
  double worst = 0.0;
  std::string name;
  for (const FigureFindings& found : all) {
    if (design_figure(found.name)->needs_running) continue;  // of next to no ripple all is error
    if (!found.base || !found.base_finer || *found.base_finer == 0.0) continue;
    const double off = std::abs(*found.base / *found.base_finer - 1.0);
    if (off > worst) name = found.name;
    worst = std::max(worst, off);
  }
  if (name.empty()) return {};
  return "\nMesh of level " + number_text(*table.record.level) +
         ": figures of the base case are off by " + significant(100 * worst, 2) + " % at most (" +
         name + "), against a finer mesh.\n";
}

}  // namespace

std::string study_summary_text(const StudyTable& table) {
  const std::vector<FigureFindings> all = study_findings(table);
  std::string text = heading(table) + failures(table) + best_text(table) + spread_text(table, all);
  const std::string telling =
      table.study.best ? table.study.best->figure : table.record.figures.front();
  for (const FigureFindings& found : all)
    if (found.name == telling) text += sensitivity_text(table, found);
  return text + mesh_text(table, all);
}

}  // namespace lodegear
