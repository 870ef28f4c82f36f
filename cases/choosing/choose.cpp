// cases/choosing/choose.cpp — all sensible pole counts for a wish, computed and ranked.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/choose.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "cases/choosing/design_work.h"
#include "cases/choosing/nothing_fits.h"
#include "cases/read_case.h"
#include "materials/words.h"

namespace lodegear {

namespace {

/// Of the most torque, without a wished one: what thicker magnets add is then hardly worth them.
constexpr double nearly_most_torque = 0.9;

/// A pole count with the cross-sections that are computed for it, the likeliest first.
struct Candidate {
  PoleSet set;
  std::vector<Section> sections;
  std::vector<std::optional<DesignFigures>> figures;  // of the first so many sections
  bool leads = false;
};

bool holds(const DesignFigures& figures, const Wish& wish) {
  return !wish.torque || figures.torque() >= *wish.torque;
}

ChoiceRow row_of(const Candidate& candidate, std::size_t section, const Wish& wish) {
  const DesignFigures& figures = *candidate.figures[section];
  return {candidate.set, candidate.sections[section], figures, candidate.leads,
          holds(figures, wish)};
}

double per_material(const ChoiceRow& row) {
  return row.figures.torque() / row.section.cost.value_or(row.figures.magnet_mass);
}

/// Whether `a` is the better cross-section of the same pole count.
bool better_section(const ChoiceRow& a, const ChoiceRow& b, double most_torque, const Wish& wish) {
  const auto enough = [&](const ChoiceRow& row) {
    return wish.torque ? row.holds_torque
                       : row.figures.torque() >= nearly_most_torque * most_torque;
  };
  if (enough(a) != enough(b)) return enough(a);
  return enough(a) ? per_material(a) > per_material(b) : a.figures.torque() > b.figures.torque();
}

std::optional<ChoiceRow> best_row(const Candidate& candidate, const Wish& wish) {
  double most = 0.0;
  for (const auto& figures : candidate.figures)
    if (figures) most = std::max(most, figures->torque());
  std::optional<ChoiceRow> best;
  for (std::size_t i = 0; i < candidate.figures.size(); ++i) {
    if (!candidate.figures[i]) continue;
    ChoiceRow row = row_of(candidate, i, wish);
    if (!best || better_section(row, *best, most, wish)) best = std::move(row);
  }
  return best;
}

bool better_row(const ChoiceRow& a, const ChoiceRow& b, const Wish& wish) {
  const auto kind = [](const ChoiceRow& row) {
    return std::tuple(!row.proportioned, !row.holds_torque,
                      row.figures.cogging_below > strong_cogging);
  };
  if (kind(a) != kind(b)) return kind(a) < kind(b);
  const bool of_torque = order_of(wish) != Order::ratio && order_of(wish) != Order::cogging;
  const auto counted = [&](const ChoiceRow& row) {
    const double value = row.holds_torque ? value_of(row, wish) : row.figures.torque();
    return of_torque || !row.holds_torque ? value * (1 - discount(row).all()) : value;
  };
  return counted(a) > counted(b);
}

class Choosing {
 public:
  Choosing(const Wish& wish, const Catalogue& catalogue, const RunOptions& options)
      : wish_(wish), catalogue_(catalogue), options_(options) {}

  Choice run() {
    gather();
    if (candidates_.empty()) throw InputError(nothing_fits(wish_, choice_.left_out));
    compute("first look", 0, 1, all_indices());
    const std::vector<std::size_t> leaders = leading();
    for (const std::size_t c : leaders) candidates_[c].leads = true;
    compute("proportions", 1, 100, leaders);
    for (const Candidate& candidate : candidates_) {
      if (auto row = best_row(candidate, wish_))
        choice_.rows.push_back(std::move(*row));
      else
        choice_.left_out.push_back({candidate.set, "its field has no solution on a quick mesh"});
    }
    std::stable_sort(choice_.rows.begin(), choice_.rows.end(),
                     [&](const auto& a, const auto& b) { return better_row(a, b, wish_); });
    return std::move(choice_);
  }

 private:
  void gather() {
    for (const PoleSet& set : pole_sets(wish_)) {
      Sections found = sections(set, wish_);
      if (found.all.empty())
        choice_.left_out.push_back({set, found.why_not});
      else
        candidates_.push_back({set, std::move(found.all), {}, false});
    }
  }

  std::vector<std::size_t> all_indices() const {
    std::vector<std::size_t> all(candidates_.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    return all;
  }

  /// Those that lead after the first look, and those that had no solution there.
  std::vector<std::size_t> leading() const {
    std::vector<std::size_t> order = all_indices();
    std::vector<std::optional<ChoiceRow>> rows;
    for (const Candidate& candidate : candidates_) rows.push_back(best_row(candidate, wish_));
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      if (!rows[a] || !rows[b]) return !rows[a] && rows[b];
      return better_row(*rows[a], *rows[b], wish_);
    });
    order.resize(std::min(order.size(), most_proportioned));
    return order;
  }

  /// Sections from `first` to before `end` of some candidates.
  void compute(const std::string& stage, std::size_t first, std::size_t end,
               const std::vector<std::size_t>& which) {
    std::vector<DesignTask> tasks;
    std::vector<std::size_t> owners;
    for (const std::size_t c : which)
      for (std::size_t s = first; s < std::min(end, candidates_[c].sections.size()); ++s) {
        tasks.push_back({case_of(candidates_[c].sections[s]), candidates_[c].set});
        owners.push_back(c);
      }
    const auto figures = worked_off(tasks, stage, options_);
    for (std::size_t i = 0; i < tasks.size(); ++i)
      candidates_[owners[i]].figures.push_back(figures[i]);
    choice_.computed += static_cast<int>(tasks.size());
  }

  /// What is computed is what is written.
  Case case_of(const Section& section) const {
    return read_case_text(case_text(section.draft), section.draft.name, catalogue_);
  }

  const Wish& wish_;
  const Catalogue& catalogue_;
  const RunOptions& options_;
  std::vector<Candidate> candidates_;
  Choice choice_;
};

}  // namespace

bool pulls_sideways(const ChoiceRow& row) {
  constexpr double gravity = 9.81;  // m/s²
  return !balanced(row.set.counts) && row.figures.side_pull > gravity * row.figures.active_mass;
}

Discount discount(const ChoiceRow& row) {
  constexpr double for_pull = 0.05, for_cogging = 0.03, for_a_magnet = 0.0005, most = 0.3;
  return {pulls_sideways(row) ? for_pull : 0.0,
          row.figures.cogging_below > noticeable_cogging ? for_cogging : 0.0,
          std::min(most, for_a_magnet * (row.section.sun_magnets + row.section.ring_magnets))};
}

double value_of(const ChoiceRow& row, const Wish& wish) {
  switch (order_of(wish)) {
    case Order::magnets:
      return row.figures.torque() / row.figures.magnet_mass;
    case Order::cost:
      return row.figures.torque() / row.section.cost.value_or(1.0);
    case Order::torque:
      return row.figures.torque() / row.figures.volume;
    case Order::ratio:
      return -std::abs(row.set.off(wish));
    case Order::cogging:
      return -row.figures.cogging_below;
  }
  return 0.0;
}

Choice choose(const Wish& wish, const Catalogue& catalogue, const RunOptions& options) {
  check_wish(wish, catalogue);
  return Choosing(wish, catalogue, options).run();
}

}  // namespace lodegear
