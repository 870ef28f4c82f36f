// cases/studies/search/search_problem.h — a study's goals and limits as a search sees them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "cases/studies/search/search_space.h"
#include "cases/studies/study_plan.h"

namespace lodegear {

/// An axis for every key that varies: listed values and up to twelve steps are choices, all else is
/// continuous. Words have no order.
SearchSpace search_space(const Study& study);

/// Numbers between from and to are rounded to a hundred-thousandth of what lies between, or to a
/// step, so that case files stay readable and near points are one design.
std::vector<TomlValue> values_at(const Study& study, const SearchPoint& point);

/// Where the base case lies; none if one of its values cannot be chosen.
std::optional<SearchPoint> base_point(const StudyPlan& plan);

/// First the goal of [best], then the others.
std::vector<Goal> goals_of(const Best& best);

/// Goals in units of the base case's figures, limits by how much of themselves they are missed.
/// `base` holds figures in the order of the task.
class Scales {
 public:
  Scales(const StudyPlan& plan, const DesignOutcome& base);
  /// `off`: how far a design that failed is from one that can be built.
  PointValue value(const DesignOutcome& outcome, double off) const;

 private:
  struct ScaledGoal {
    std::size_t figure = 0;
    double factor = 1.0;  // negative: the figure is to be large
  };
  struct ScaledLimit {
    std::size_t figure = 0;
    std::optional<double> at_least, at_most;
    double scale = 1.0;
  };
  std::vector<ScaledGoal> goals_;
  std::vector<ScaledLimit> limits_;
};

/// What can be said of a design before it is solved.
struct FirstGlance {
  double off = 1.0;  ///< how far from being built and worth it, by complaints and missed limits
  /// Of a design that cannot be built, or misses a limit on size or clearance by more than
  /// `hopeless`, which no solution would mend: failed, with the figures that need none.
  std::optional<DesignOutcome> outcome;
};
FirstGlance first_glance(const StudyPlan& plan, const Design& design, const Catalogue& catalogue);
inline constexpr double hopeless = 0.1;  // of the limit; nearer designs show the search its way

}  // namespace lodegear
