// cases/studies/search/search_text.cpp — what a search found, for the screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

#include "cases/studies/design_figures.h"
#include "cases/studies/search/search_problem.h"
#include "cases/studies/search/search_table.h"
#include "cases/studies/study_best.h"
#include "cases/studies/study_findings.h"
#include "cases/studies/varied_values.h"
#include "cases/text_table.h"
#include "materials/words.h"

namespace lodegear {

namespace {

using Rows = std::vector<std::vector<std::string>>;

constexpr int line_width = 100;
constexpr std::size_t front_shown = 15;
constexpr double at_limit = 2e-3;  // of the limit: nearer than the mesh of a design tells
constexpr double at_end = 1e-3;    // of the range

std::optional<double> number_in(const std::string& text) {
  double x = 0.0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), x);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return x;
}

std::string cell_or_dash(const std::optional<double>& x) { return x ? significant(*x, 4) : "-"; }

std::string short_cell(const std::string& cell) {
  const auto x = number_in(cell);
  return x ? number_text(*x) : cell;
}

std::string change(const std::optional<double>& from, const std::optional<double>& to) {
  if (!from || !to || *from == 0.0) return "-";
  const double percent = 100 * (*to / *from - 1.0);
  if (std::abs(percent) < 0.05) return "0 %";
  return (percent > 0.0 ? "+" : "") + rounded_text(percent, 1) + " %";
}

std::optional<double> figure_in(const std::vector<DesignRow>& rows, std::size_t row,
                                std::size_t figure) {
  return row < rows.size() ? rows[row].outcome.figures[figure] : std::nullopt;
}

std::string heading(const SearchTable& table) {
  const StateCounts counts = state_counts(table.all);
  std::string text = table.all.record.name + ": " + std::to_string(table.all.rows.size()) +
                     " different designs (" + table.all.record.how + ", seed " +
                     std::to_string(table.all.study.seed) + ")";
  if (counts.unsure > 0) text += ", " + std::to_string(counts.unsure) + " unsure";
  if (counts.failed > 0)
    text += ", " + std::to_string(counts.failed) + " cannot be built or have no solution";
  return text + "\n";
}

/// What is most often wrong where no design can be built.
std::string failures(const SearchTable& table) {
  std::map<std::string, int> reasons;
  for (const DesignRow& row : table.all.rows)
    if (row.outcome.state == DesignState::failed) ++reasons[row.outcome.remark];
  if (reasons.empty()) return {};
  const auto most = std::max_element(reasons.begin(), reasons.end(),
                                     [](auto& a, auto& b) { return a.second < b.second; });
  return wrapped("for example: " + most->first, "  ", line_width);
}

std::string goals_text(const SearchTable& table) {
  std::vector<std::string> goals;
  for (const Goal& goal : goals_of(*table.all.study.best))
    goals.push_back((goal.largest ? "largest " : "smallest ") + goal.figure);
  return listed(goals, " and ") +
         (table.all.study.best->limits.empty() ? "" : " within the limits");
}

/// A figure a row: base case and best, on the mesh of the search and on a finer one.
std::string comparison(const SearchTable& table) {
  const DesignRow& best = table.all.rows[table.chosen.front()];
  const bool finer = !table.finer.empty();
  Rows rows(1, {"", "base case", "best", "change"});
  if (finer)
    for (const char* name : {"base, finer mesh", "best, finer mesh", "change"})
      rows.front().emplace_back(name);
  rows.front().emplace_back("");
  for (std::size_t i = 0; i < table.all.record.figures.size(); ++i) {
    const auto base = figure_in(table.all.base, 0, i), here = best.outcome.figures[i];
    rows.push_back(
        {table.all.record.figures[i], cell_or_dash(base), cell_or_dash(here), change(base, here)});
    if (finer) {
      const auto base_finer = figure_in(table.all.base, 1, i);
      const auto here_finer = figure_in(table.finer, 0, i);
      for (const std::string& cell :
           {cell_or_dash(base_finer), cell_or_dash(here_finer), change(base_finer, here_finer)})
        rows.back().push_back(cell);
    }
    rows.back().push_back(unit_of(table.all.record.figures[i]));
  }
  return text_table(rows, 2, true);
}

std::string values_text(const SearchTable& table) {
  const DesignRow& best = table.all.rows[table.chosen.front()];
  Rows rows(1, {"", "base case", "best"});
  for (std::size_t i = 0; i < best.cells.size(); ++i)
    rows.push_back(
        {table.all.record.columns[i], short_cell(table.base_cells[i]), short_cell(best.cells[i])});
  return text_table(rows, 2, true);
}

std::string sentences(const std::string& first, const std::vector<std::string>& all) {
  if (all.empty()) return {};
  return wrapped(first + listed(all, " and ") + ".", "", line_width);
}

std::string best_text(const SearchTable& table) {
  const DesignRow& best = table.all.rows[table.chosen.front()];
  std::string text = "\nBest: " + goals_text(table) + ", design " + std::to_string(best.number) +
                     "\n" + comparison(table) + "\n" + values_text(table);
  const auto ends = where_it_ends(table, best);
  text += ends.empty() ? "\nNeither a limit nor the end of a range holds it back.\n"
                       : "\n" + sentences("What holds it back: ", ends);
  if (!table.finer.empty())
    text += sentences("On the finer mesh it misses: ", missed_limits(table, table.finer.front()));
  return text;
}

std::string front_text(const SearchTable& table) {
  const auto goals = goals_of(*table.all.study.best);
  Rows rows(1, {"design"});
  for (const Goal& goal : goals) rows.front().push_back(goal.figure);
  if (!table.finer.empty())
    for (const Goal& goal : goals) rows.front().push_back("finer mesh: " + unit_of(goal.figure));
  for (const std::string& column : table.all.record.columns) rows.front().push_back(column);
  const auto add = [&](const std::string& name, const DesignRow& row, const DesignRow* finer,
                       const std::vector<std::string>& cells) {
    rows.push_back({name});
    for (const Goal& goal : goals)
      rows.back().push_back(cell_or_dash(figure_of(row, table.all.record.figures, goal.figure)));
    if (!table.finer.empty())
      for (const Goal& goal : goals)
        rows.back().push_back(
            finer ? cell_or_dash(figure_of(*finer, table.all.record.figures, goal.figure)) : "");
    for (const std::string& cell : cells) rows.back().push_back(short_cell(cell));
  };
  add("base", table.all.base.front(), table.all.base.size() > 1 ? &table.all.base[1] : nullptr,
      table.base_cells);
  const std::size_t n = table.chosen.size();
  std::size_t last = n;
  for (std::size_t k = 0; k < std::min(n, front_shown); ++k) {
    const std::size_t i = n <= front_shown ? k : k * (n - 1) / (front_shown - 1);
    if (i == last) continue;
    last = i;
    const DesignRow& row = table.all.rows[table.chosen[i]];
    const auto finer = std::find_if(table.finer.begin(), table.finer.end(),
                                    [&](const DesignRow& f) { return f.number == row.number; });
    add(std::to_string(row.number), row, finer == table.finer.end() ? nullptr : &*finer, row.cells);
  }
  return "\nTrade-off: " + goals_text(table) + "; " + std::to_string(n) +
         " designs that no other beats" +
         (n > front_shown ? ", some of them (all are in front.csv)" : "") + "\n" +
         text_table(rows, 2, true);
}

}  // namespace

std::vector<std::string> where_it_ends(const SearchTable& table, const DesignRow& row) {
  std::vector<std::string> ends;
  const Study& study = table.all.study;
  for (const Limit& limit : study.best->limits) {
    const auto x = figure_of(row, table.all.record.figures, limit.figure);
    if (!x) continue;
    if (limit.at_least && *x - *limit.at_least <= at_limit * std::abs(*limit.at_least))
      ends.push_back(limit.figure + " (at least " + number_text(*limit.at_least) + ")");
    if (limit.at_most && *limit.at_most - *x <= at_limit * std::abs(*limit.at_most))
      ends.push_back(limit.figure + " (at most " + number_text(*limit.at_most) + ")");
  }
  for (std::size_t i = 0; i < study.vary.size(); ++i) {
    const Variation& v = study.vary[i];
    const auto x = number_in(row.cells[i]);
    if (!x || (v.spread == Spread::listed && !search_space(study)[i].ordered)) continue;
    const double low = v.spread == Spread::listed ? number_of(v.values.front()) : v.from;
    const double high = v.spread == Spread::listed ? number_of(v.values.back()) : v.to;
    if (high <= low) continue;
    for (const double end : {low, high})
      if (std::abs(*x - end) <= at_end * (high - low))
        ends.push_back(v.key + " (range ends at " + number_text(end) + ")");
  }
  return ends;
}

std::vector<std::string> missed_limits(const SearchTable& table, const DesignRow& row) {
  std::vector<std::string> missed;
  for (const Limit& limit : table.all.study.best->limits) {
    const auto x = figure_of(row, table.all.record.figures, limit.figure);
    if (x && keeps(limit, *x)) continue;
    const std::string is = limit.figure + " is " + (x ? significant(*x, 6) : "not known");
    if (limit.at_least && (!x || *x < *limit.at_least))
      missed.push_back(is + ", wanted at least " + number_text(*limit.at_least));
    if (limit.at_most && (!x || *x > *limit.at_most))
      missed.push_back(is + ", wanted at most " + number_text(*limit.at_most));
  }
  return missed;
}

std::string search_summary_text(const SearchTable& table) {
  const std::string text = heading(table) + failures(table);
  if (table.chosen.empty())
    return text + "\nNo design of the search can be built and keeps the limits.\n";
  return text + (table.all.study.how == Sampling::optimise ? best_text(table) : front_text(table));
}

}  // namespace lodegear
