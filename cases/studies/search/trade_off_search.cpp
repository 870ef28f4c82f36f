// cases/studies/search/trade_off_search.cpp — the only door to pagmo: points no other beats in all
// goals. SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/trade_off_search.h"

#include <algorithm>
#include <cmath>
#include <pagmo/algorithms/nsga2.hpp>
#include <pagmo/bfe.hpp>
#include <pagmo/config.hpp>
#include <pagmo/population.hpp>
#include <pagmo/problem.hpp>

namespace lodegear {

namespace {

using pagmo::vector_double;

/// What problem and generations share. pagmo copies both, so they hold a pointer.
struct Shared {
  const SearchSpace* space = nullptr;
  const Evaluate* evaluate = nullptr;
  std::size_t n_goals = 2;
  std::vector<std::size_t> axes;  // pagmo wants whole numbers last
  Trail trail;

  SearchPoint point_of(const double* x) const {
    SearchPoint point(axes.size());
    for (std::size_t i = 0; i < axes.size(); ++i) point[axes[i]] = x[i];
    return point;
  }
  vector_double vector_of(const SearchPoint& point) const {
    vector_double x;
    for (const std::size_t axis : axes) x.push_back(point[axis]);
    return x;
  }
  /// What is not allowed lies behind all that is, and the nearer one in front.
  vector_double fitness_of(const PointValue& value) const {
    if (distance_to_allowed(value) > 0.0) return vector_double(n_goals, merit(value));
    return value.goals;
  }
  std::vector<vector_double> ask(const std::vector<SearchPoint>& points) {
    const std::vector<PointValue> values = (*evaluate)(points);
    std::vector<vector_double> all;
    for (std::size_t i = 0; i < points.size(); ++i) {
      trail.push_back({points[i], values[i]});
      all.push_back(fitness_of(values[i]));
    }
    return all;
  }
};

struct Problem {
  Shared* shared = nullptr;

  vector_double fitness(const vector_double& x) const {
    return shared->ask({shared->point_of(x.data())}).front();
  }
  vector_double::size_type get_nobj() const { return shared ? shared->n_goals : 1; }
  vector_double::size_type get_nix() const {
    vector_double::size_type n = 0;
    if (shared)
      for (const Axis& axis : *shared->space) n += axis.choices > 0;
    return n;
  }
  std::pair<vector_double, vector_double> get_bounds() const {
    if (!shared) return {{0.0}, {1.0}};
    vector_double low, high;
    for (const std::size_t i : shared->axes) {
      const Axis& axis = (*shared->space)[i];
      low.push_back(0.0);
      high.push_back(axis.choices > 0 ? axis.choices - 1.0 : 1.0);
    }
    return {low, high};
  }
};

/// A generation, evaluated together.
struct Generation {
  Shared* shared = nullptr;

  vector_double operator()(const pagmo::problem&, const vector_double& all) const {
    std::vector<SearchPoint> points;
    for (std::size_t i = 0; i < all.size(); i += shared->axes.size())
      points.push_back(shared->point_of(all.data() + i));
    vector_double joined;
    for (const vector_double& fitness : shared->ask(points))
      joined.insert(joined.end(), fitness.begin(), fitness.end());
    return joined;
  }
};

/// As many as generations, about; NSGA-II wants a multiple of four.
int population_size(int points) {
  const int wanted = static_cast<int>(std::lround(1.5 * std::sqrt(points)));
  return std::max(8, (wanted + 2) / 4 * 4);
}

/// Of the first look those that are allowed, then the nearest to it, in the order asked for.
Trail nearest_to_good(const Trail& trail, std::size_t n) {
  Trail some = trail;
  std::stable_sort(some.begin(), some.end(), [](const AskedPoint& a, const AskedPoint& b) {
    return distance_to_allowed(a.value) < distance_to_allowed(b.value);
  });
  some.resize(std::min(n, some.size()));
  return some;
}

}  // namespace

Trail trade_off_search(const SearchSpace& space, std::size_t n_goals, const SearchOptions& options,
                       const Evaluate& evaluate) {
  Shared shared{&space, &evaluate, n_goals, {}, {}};
  for (const bool whole : {false, true})
    for (std::size_t i = 0; i < space.size(); ++i)
      if ((space[i].choices > 0) == whole) shared.axes.push_back(i);
  const long all = combinations(space, options.points);
  if (all > 0 && all <= options.points) {
    shared.ask(all_combinations(space));
    return std::move(shared.trail);
  }
  const int size = population_size(options.points);
  shared.ask(options.known);
  const Trail look =
      looked_at(space, std::min(size, options.points), most_cheap * size, options.seed, evaluate);
  shared.trail.insert(shared.trail.end(), look.begin(), look.end());
  const int generations = (options.points - costly(shared.trail)) / size;
  if (generations < 1 || shared.trail.size() < static_cast<std::size_t>(size))
    return std::move(shared.trail);
  pagmo::population population(pagmo::problem(Problem{&shared}), 0u, options.seed);
  for (const AskedPoint& asked : nearest_to_good(shared.trail, static_cast<std::size_t>(size)))
    population.push_back(shared.vector_of(asked.point), shared.fitness_of(asked.value));
  pagmo::nsga2 search(static_cast<unsigned>(generations), 0.95, 10.0, 0.1, 20.0, options.seed);
  search.set_bfe(pagmo::bfe(Generation{&shared}));
  search.evolve(population);
  return std::move(shared.trail);
}

std::vector<std::size_t> front_of(const Trail& trail) {
  std::vector<std::size_t> front;
  for (std::size_t i = 0; i < trail.size(); ++i) {
    if (distance_to_allowed(trail[i].value) > 0.0) continue;
    bool beaten = false;
    for (std::size_t k = 0; k < trail.size() && !beaten; ++k)
      beaten = dominates(trail[k].value, trail[i].value) ||
               (k < i && trail[k].value.goals == trail[i].value.goals);
    if (!beaten) front.push_back(i);
  }
  std::stable_sort(front.begin(), front.end(), [&trail](std::size_t a, std::size_t b) {
    return trail[a].value.goals < trail[b].value.goals;
  });
  return front;
}

std::string pagmo_version() {
  return std::to_string(PAGMO_VERSION_MAJOR) + "." + std::to_string(PAGMO_VERSION_MINOR);
}

}  // namespace lodegear
