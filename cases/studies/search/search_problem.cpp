// cases/studies/search/search_problem.cpp — a study's goals and limits as a search sees them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/search_problem.h"

#include <algorithm>
#include <cmath>

#include "cases/read_case.h"
#include "cases/slip_figures.h"
#include "cases/studies/design_figures.h"
#include "cases/studies/varied_values.h"
#include "cases/text_table.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr std::size_t most_steps = 12;  // more are followed as if there were no steps
constexpr int digits_between = 5;

bool is_choice(const Variation& v) {
  return v.spread == Spread::listed || (v.step && n_values(v) <= most_steps);
}

TomlValue number_at(const Variation& v, double u) {
  const double x = v.from + u * (v.to - v.from);
  if (v.step) {
    const auto last = static_cast<double>(n_values(v) - 1);
    return value_at(
        v, static_cast<std::size_t>(std::clamp(std::round((x - v.from) / *v.step), 0.0, last)));
  }
  const int digits = digits_between - static_cast<int>(std::floor(std::log10(v.to - v.from)));
  // Multiplied or divided by a whole power of ten, so that the decimal is met exactly.
  const double power = std::pow(10.0, std::abs(digits));
  const double rounded =
      digits >= 0 ? std::round(x * power) / power : std::round(x / power) * power;
  return number_value(std::clamp(rounded, v.from, v.to));
}

bool same_value(const TomlValue& a, const TomlValue& b) {
  if (is_number(a) && is_number(b)) return number_of(a) == number_of(b);
  return a.kind == b.kind && a.text == b.text && a.boolean == b.boolean;
}

std::optional<double> place_of(const Variation& v, const TomlValue& value) {
  if (is_choice(v)) {
    for (std::size_t i = 0; i < n_values(v); ++i)
      if (same_value(value_at(v, i), value)) return static_cast<double>(i);
    return std::nullopt;
  }
  if (!is_number(value)) return std::nullopt;
  const double u = (number_of(value) - v.from) / (v.to - v.from);
  return u >= 0.0 && u <= 1.0 ? std::optional(u) : std::nullopt;
}

std::size_t place_in(const std::vector<std::string>& figures, const std::string& name) {
  return static_cast<std::size_t>(std::find(figures.begin(), figures.end(), name) -
                                  figures.begin());
}

/// Without the last digits, in which equal masses and clearances differ.
double told(double x) { return std::round(x * 1e9) / 1e9; }

/// The first of these that is a size to measure by.
double size_of(std::initializer_list<std::optional<double>> sizes) {
  for (const std::optional<double>& x : sizes)
    if (x && std::abs(*x) > 1e-9) return std::abs(*x);
  return 1.0;
}

/// By how much of itself the limit is missed.
double missed_part(const Limit& limit, double x) {
  double missed = -1.0;
  if (limit.at_least)
    missed = std::max(missed, (*limit.at_least - x) / size_of({limit.at_least, x}));
  if (limit.at_most) missed = std::max(missed, (x - *limit.at_most) / size_of({limit.at_most, x}));
  return missed;
}

}  // namespace

SearchSpace search_space(const Study& study) {
  SearchSpace space;
  for (const Variation& v : study.vary) {
    Axis axis;
    if (is_choice(v)) axis.choices = static_cast<int>(n_values(v));
    axis.ordered = v.spread != Spread::listed ||
                   (std::all_of(v.values.begin(), v.values.end(), is_number) &&
                    std::is_sorted(v.values.begin(), v.values.end(),
                                   [](auto& a, auto& b) { return number_of(a) < number_of(b); }));
    space.push_back(axis);
  }
  return space;
}

std::vector<TomlValue> values_at(const Study& study, const SearchPoint& point) {
  std::vector<TomlValue> values;
  for (std::size_t i = 0; i < study.vary.size(); ++i) {
    const Variation& v = study.vary[i];
    values.push_back(is_choice(v) ? value_at(v, static_cast<std::size_t>(std::lround(point[i])))
                                  : number_at(v, point[i]));
  }
  return values;
}

std::optional<SearchPoint> base_point(const StudyPlan& plan) {
  SearchPoint point;
  for (const Variation& v : plan.study().vary) {
    const TomlValue* value = plan.base_value(v.key);
    const auto place = value ? place_of(v, *value) : std::nullopt;
    if (!place) return std::nullopt;
    point.push_back(*place);
  }
  return point;
}

std::vector<Goal> goals_of(const Best& best) {
  std::vector<Goal> goals{{best.figure, best.largest}};
  goals.insert(goals.end(), best.others.begin(), best.others.end());
  return goals;
}

Scales::Scales(const StudyPlan& plan, const DesignOutcome& base) {
  const std::vector<std::string>& figures = plan.task().figures;
  for (const Goal& goal : goals_of(*plan.study().best)) {
    const std::size_t i = place_in(figures, goal.figure);
    goals_.push_back({i, (goal.largest ? -1.0 : 1.0) / size_of({base.figures[i]})});
  }
  for (const Limit& limit : plan.study().best->limits) {
    const std::size_t i = place_in(figures, limit.figure);
    limits_.push_back({i, limit.at_least, limit.at_most,
                       size_of({limit.at_least, limit.at_most, base.figures[i]})});
  }
}

PointValue Scales::value(const DesignOutcome& outcome, double off) const {
  PointValue value;
  value.not_built = outcome.state == DesignState::failed ? off : 0.0;
  for (const ScaledLimit& limit : limits_) {
    const auto figure = outcome.figures[limit.figure];
    if (!figure) value.not_built = std::max(value.not_built, 1.0);
    if (limit.at_least)
      value.misses.push_back(figure ? told((*limit.at_least - *figure) / limit.scale) : 1.0);
    if (limit.at_most)
      value.misses.push_back(figure ? told((*figure - *limit.at_most) / limit.scale) : 1.0);
  }
  for (const ScaledGoal& goal : goals_) {
    const auto figure = outcome.figures[goal.figure];
    if (!figure) value.not_built = std::max(value.not_built, 1.0);
    value.goals.push_back(figure ? told(*figure * goal.factor) : 0.0);
  }
  if (value.not_built > 0.0) value.goals.clear();
  return value;
}

FirstGlance first_glance(const StudyPlan& plan, const Design& design,
                         const Catalogue& catalogue) try {
  CaseResult bare;
  bare.input = read_case_text(design.case_text, "design", catalogue);
  bare.clearances = gap_clearances(bare.input.gear);
  const std::vector<std::string>& names = plan.task().figures;
  FirstGlance glance;
  DesignOutcome outcome{DesignState::failed, std::vector<std::optional<double>>(names.size()), {}};
  for (std::size_t i = 0; i < names.size(); ++i) {
    const DesignFigure& figure = *design_figure(names[i]);
    if (figure.needs_slip || figure.needs_running || figure.needs_mesh ||
        !why_no_figure(figure, bare.input).empty())
      continue;
    outcome.figures[i] = figure.value(bare, figure.member.value_or(Member::modulator));
  }
  for (const Limit& limit : plan.study().best->limits) {
    const auto x = outcome.figures[place_in(names, limit.figure)];
    if (!x) continue;
    const double missed = missed_part(limit, *x);
    glance.off += std::max(missed, 0.0);
    if (missed <= hopeless) continue;
    outcome.remark += (outcome.remark.empty() ? "Not solved: " : ", ") + limit.figure + " is " +
                      significant(*x, 4) +
                      (limit.at_least && *x < *limit.at_least
                           ? ", wanted at least " + number_text(*limit.at_least)
                           : ", wanted at most " + number_text(*limit.at_most));
  }
  if (!outcome.remark.empty()) glance.outcome = std::move(outcome);
  return glance;
} catch (const InputError& error) {
  constexpr double a_complaint = 0.1;
  DesignOutcome outcome = run_design(design.case_text, plan.task(), catalogue, {});
  return {1.0 + a_complaint * static_cast<double>(error.complaints().size()), std::move(outcome)};
}

}  // namespace lodegear
