// cases/studies/study_best.cpp — which designs are the best by the user's criteria.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_best.h"

#include <algorithm>
#include <cmath>

#include "cases/studies/design_figures.h"
#include "cases/text_table.h"

namespace lodegear {

std::optional<double> figure_of(const DesignRow& row, const std::vector<std::string>& figures,
                                const std::string& name) {
  const auto found = std::find(figures.begin(), figures.end(), name);
  if (found == figures.end()) return std::nullopt;
  return row.outcome.figures[static_cast<std::size_t>(found - figures.begin())];
}

bool keeps(const Limit& limit, double figure) {
  constexpr double last_digits = 1e-9;
  return (!limit.at_least || figure >= *limit.at_least - last_digits * std::abs(*limit.at_least)) &&
         (!limit.at_most || figure <= *limit.at_most + last_digits * std::abs(*limit.at_most));
}

bool keeps_limits(const DesignRow& row, const std::vector<std::string>& figures, const Best& best) {
  if (row.outcome.state == DesignState::failed || !figure_of(row, figures, best.figure))
    return false;
  return std::all_of(best.limits.begin(), best.limits.end(), [&](const Limit& limit) {
    const auto value = figure_of(row, figures, limit.figure);
    return value && keeps(limit, *value);
  });
}

void BestSoFar::look_at(const DesignRow& row) {
  if (!best_ || !keeps_limits(row, figures_, *best_)) return;
  const double value = *figure_of(row, figures_, best_->figure);
  const bool better = !found_ ||
                      (best_->largest ? value > found_->figure : value < found_->figure) ||
                      (value == found_->figure && row.number < found_->number);
  if (better) found_ = {row.number, value};
}

std::string BestSoFar::text() const {
  if (!found_) return {};
  return "best " + significant(found_->figure, 4) + " " + design_figure(best_->figure)->unit +
         " (design " + std::to_string(found_->number) + ")";
}

std::vector<const DesignRow*> ranked(const std::vector<DesignRow>& rows,
                                     const std::vector<std::string>& figures, const Best& best,
                                     std::size_t most) {
  std::vector<const DesignRow*> good;
  for (const DesignRow& row : rows)
    if (keeps_limits(row, figures, best)) good.push_back(&row);
  std::stable_sort(good.begin(), good.end(), [&](const DesignRow* a, const DesignRow* b) {
    const double x = *figure_of(*a, figures, best.figure), y = *figure_of(*b, figures, best.figure);
    return best.largest ? x > y : x < y;
  });
  if (good.size() > most) good.resize(most);
  return good;
}

}  // namespace lodegear
