// cases/studies/search/one_goal_search.cpp — the best point of a space under limits.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/one_goal_search.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <numeric>
#include <thread>

#include "cases/studies/search/local_search.h"

namespace lodegear {

namespace {

/// What one round goes downhill with. Rounds repeat; each third one starts elsewhere.
struct Round {
  std::size_t starts;
  double step;
  double share;  // of the points that are left
  Downhill how;
};
constexpr Round rounds[] = {{4, 0.15, 0.5, Downhill::linear_models},
                            {2, 0.05, 0.6, Downhill::quadratic_models},
                            {1, 0.02, 0.7, Downhill::simplexes}};
constexpr std::size_t n_rounds = std::size(rounds);
constexpr double first_share = 0.3;
constexpr double elsewhere_share = 0.3;
constexpr double apart = 0.1;  // of an axis: starts nearer to each other find the same

bool are_apart(const SearchSpace& space, const SearchPoint& a, const SearchPoint& b) {
  for (std::size_t i = 0; i < space.size(); ++i)
    if (std::abs(a[i] - b[i]) > (space[i].choices > 0 ? 0.5 : apart)) return true;
  return false;
}

class Search {
 public:
  Search(const SearchSpace& space, const SearchOptions& options, const Evaluate& evaluate)
      : space_(space), options_(options), evaluate_(evaluate) {
    for (const Axis& axis : space) free_ += axis.choices == 0;
  }

  Trail trail() {
    ask(options_.known);
    const long all = combinations(space_, options_.points);
    if (free_ == 0 && all <= left()) {
      ask(all_combinations(space_));
      return std::move(trail_);
    }
    look(std::max(static_cast<int>(first_share * options_.points), 2));
    std::size_t before = 0;
    for (std::uint32_t i = 0; left() > 0 && trail_.size() > before; ++i) {
      before = i % n_rounds == 0 ? trail_.size() : 0;  // three rounds without a point: no more
      std::size_t from = 0;
      if (i > 0 && i % n_rounds == 0) {
        from = trail_.size();
        look(std::max(static_cast<int>(elsewhere_share * left()), 2), i);
      }
      exchange_choices();
      downhill(rounds[i % n_rounds], from);
    }
    return std::move(trail_);
  }

 private:
  /// Cheap ones counted.
  int all_left() const {
    return std::max(most_cheap * options_.points - static_cast<int>(trail_.size()), 0);
  }
  int left() const { return std::min(options_.points - costly(trail_), all_left()); }

  void ask(std::vector<SearchPoint> points) {
    points.resize(std::min(points.size(), static_cast<std::size_t>(std::max(left(), 0))));
    if (points.empty()) return;
    const std::vector<PointValue> values = evaluate_(points);
    for (std::size_t i = 0; i < points.size(); ++i) trail_.push_back({points[i], values[i]});
  }

  void look(int n, std::uint32_t again = 0) {
    const Trail part =
        looked_at(space_, std::min(n, left()), all_left(), options_.seed + 7919 * again, evaluate_);
    trail_.insert(trail_.end(), part.begin(), part.end());
  }

  /// From the best point, as long as that helps.
  void exchange_choices() {
    while (left() > 0 && !trail_.empty()) {
      const SearchPoint best = trail_[best_of(trail_)].point;
      std::vector<SearchPoint> fresh;
      for (SearchPoint& point : neighbours(space_, best))
        if (std::none_of(trail_.begin(), trail_.end(),
                         [&](const AskedPoint& asked) { return asked.point == point; }))
          fresh.push_back(std::move(point));
      if (fresh.empty()) return;
      ask(fresh);
      if (trail_[best_of(trail_)].point == best) return;
    }
  }

  /// The best points from `from` on that are not near each other.
  std::vector<SearchPoint> starts(std::size_t most, std::size_t from) const {
    std::vector<std::size_t> order(trail_.size() - from);
    std::iota(order.begin(), order.end(), from);
    std::stable_sort(order.begin(), order.end(), [this](std::size_t a, std::size_t b) {
      return merit(trail_[a].value) < merit(trail_[b].value);
    });
    std::vector<SearchPoint> chosen;
    for (const std::size_t i : order) {
      if (chosen.size() == most) break;
      if (std::all_of(chosen.begin(), chosen.end(), [&](const SearchPoint& other) {
            return are_apart(space_, trail_[i].point, other);
          }))
        chosen.push_back(trail_[i].point);
    }
    return chosen;
  }

  void downhill(const Round& round, std::size_t from) {
    if (left() <= 0 || free_ == 0 || from >= trail_.size()) return;
    const int enough = 3 * (free_ + 1);  // fewer points do not tell where downhill is
    const int all = std::max(static_cast<int>(round.share * left()), std::min(left(), enough));
    const std::size_t most =
        std::clamp<std::size_t>(static_cast<std::size_t>(all / enough), 1, round.starts);
    std::vector<LocalStart> jobs;
    for (SearchPoint& point : starts(most, from))
      jobs.push_back({std::move(point), round.step, all / static_cast<int>(most), round.how,
                      all_left() / static_cast<int>(most)});
    for (const Trail& part : side_by_side(jobs))
      trail_.insert(trail_.end(), part.begin(), part.end());
  }

  std::vector<Trail> side_by_side(const std::vector<LocalStart>& jobs) const {
    std::vector<Trail> trails(jobs.size());
    std::vector<std::exception_ptr> failures(jobs.size());
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
      for (std::size_t i = next++; i < jobs.size(); i = next++) try {
          trails[i] = local_search(space_, jobs[i], evaluate_);
        } catch (...) {
          failures[i] = std::current_exception();
        }
    };
    {
      std::vector<std::jthread> others;
      const auto n = std::min(static_cast<std::size_t>(options_.threads), jobs.size());
      for (std::size_t i = 1; i < n; ++i) others.emplace_back(work);
      work();
    }
    for (const std::exception_ptr& failure : failures)
      if (failure) std::rethrow_exception(failure);
    return trails;
  }

  const SearchSpace& space_;
  const SearchOptions& options_;
  const Evaluate& evaluate_;
  int free_ = 0;  // continuous axes
  Trail trail_;
};

}  // namespace

Trail one_goal_search(const SearchSpace& space, const SearchOptions& options,
                      const Evaluate& evaluate) {
  return Search(space, options, evaluate).trail();
}

std::size_t best_of(const Trail& trail) {
  const auto less = [](const AskedPoint& a, const AskedPoint& b) {
    return merit(a.value) < merit(b.value);
  };
  return static_cast<std::size_t>(std::min_element(trail.begin(), trail.end(), less) -
                                  trail.begin());
}

}  // namespace lodegear
