// cases/studies/search/local_search.cpp — the only door to NLopt: downhill from a point.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/local_search.h"

#include <algorithm>
#include <exception>
#include <nlopt.hpp>

namespace lodegear {

namespace {

// One run: what NLopt asks for, told in its way.
class Run {
 public:
  Run(const SearchSpace& space, const LocalStart& start, const Evaluate& evaluate)
      : start_(start), evaluate_(evaluate) {
    for (std::size_t i = 0; i < space.size(); ++i)
      if (space[i].choices == 0) free_.push_back(i);
  }

  Trail trail() {
    if (free_.empty() || start_.points < 1) return {};
    std::vector<double> x;
    for (const std::size_t i : free_) x.push_back(start_.point[i]);
    try {
      // The start is asked for beforehand: how many limits there are shows in its value.
      const std::size_t limits = value_at(x).misses.size();
      nlopt::opt search = searcher(limits);
      double least = 0.0;
      search.optimize(x, least);
    } catch (const nlopt::forced_stop&) {
    } catch (const nlopt::roundoff_limited&) {  // as near as numbers go
    } catch (const std::runtime_error&) {       // NLopt gave up; what it asked for is kept
    }
    if (failure_) std::rethrow_exception(failure_);
    return std::move(trail_);
  }

 private:
  nlopt::opt searcher(std::size_t limits) {
    const bool linear = start_.how == Downhill::linear_models;
    const bool quadratic = start_.how == Downhill::quadratic_models && free_.size() > 1;
    nlopt::opt search(linear      ? nlopt::LN_COBYLA
                      : quadratic ? nlopt::LN_BOBYQA  // of two axes and more
                                  : nlopt::LN_SBPLX,
                      static_cast<unsigned>(free_.size()));
    search.set_lower_bounds(0.0);
    search.set_upper_bounds(1.0);
    search.set_xtol_abs(finest_step);
    search.set_initial_step(start_.step);
    search.set_min_objective(linear ? &goal : quadratic ? &goal_and_limits : &merit_alone, this);
    if (linear) search.add_inequality_mconstraint(&limits_kept, this, slacks(limits + 1));
    return search;
  }

  static std::vector<double> slacks(std::size_t n) { return std::vector<double>(n, 0.0); }

  /// Of the point asked for last, or a new one. Ends the run when the points are used up.
  const PointValue& value_at(const std::vector<double>& x) try {
    if (!trail_.empty() && x == last_) return trail_.back().value;
    if (failure_ || is_used_up()) throw nlopt::forced_stop();
    AskedPoint asked{start_.point, {}};
    for (std::size_t i = 0; i < free_.size(); ++i)
      asked.point[free_[i]] = std::clamp(x[i], 0.0, 1.0);
    asked.value = evaluate_({asked.point}).front();
    last_ = x;
    trail_.push_back(std::move(asked));
    const PointValue& value = trail_.back().value;
    if (value.not_built == 0.0)
      worst_ = any_built_ ? std::max(worst_, value.goals.front()) : value.goals.front();
    any_built_ = any_built_ || value.not_built == 0.0;
    return value;
  } catch (const nlopt::forced_stop&) {
    throw;
  } catch (...) {
    failure_ = std::current_exception();
    throw nlopt::forced_stop();
  }

  bool is_used_up() const {
    return costly(trail_) >= start_.points || static_cast<int>(trail_.size()) >= start_.most;
  }

  static double goal(const std::vector<double>& x, std::vector<double>&, void* run) {
    auto& self = *static_cast<Run*>(run);
    const PointValue& value = self.value_at(x);
    return value.not_built > 0.0 ? self.worst_ : value.goals.front();
  }

  /// The limits, and that the point is built at all.
  static void limits_kept(unsigned n, double* result, unsigned n_x, const double* x, double*,
                          void* run) {
    const PointValue& value = static_cast<Run*>(run)->value_at({x, x + n_x});
    for (unsigned i = 0; i + 1 < n; ++i) result[i] = value.misses[i];
    result[n - 1] = value.not_built > 0.0 ? value.not_built : -0.1;
  }

  static double goal_and_limits(const std::vector<double>& x, std::vector<double>&, void* run) {
    constexpr double price = 10.0;  // of a limit missed by all of it; goals are of the order of 1
    auto& self = *static_cast<Run*>(run);
    const PointValue& value = self.value_at(x);
    return value.not_built > 0.0 ? self.worst_ + value.not_built
                                 : value.goals.front() + price * distance_to_allowed(value);
  }

  static double merit_alone(const std::vector<double>& x, std::vector<double>&, void* run) {
    return merit(static_cast<Run*>(run)->value_at(x));
  }

  const LocalStart& start_;
  const Evaluate& evaluate_;
  std::vector<std::size_t> free_;  // continuous axes
  std::vector<double> last_;
  Trail trail_;
  double worst_ = 0.0;
  bool any_built_ = false;
  std::exception_ptr failure_;
};

}  // namespace

Trail local_search(const SearchSpace& space, const LocalStart& start, const Evaluate& evaluate) {
  return Run(space, start, evaluate).trail();
}

std::string nlopt_version() {
  return std::to_string(nlopt::version_major()) + "." + std::to_string(nlopt::version_minor()) +
         "." + std::to_string(nlopt::version_bugfix());
}

}  // namespace lodegear
