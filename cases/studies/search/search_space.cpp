// cases/studies/search/search_space.cpp — points a search may ask for, and which of two is better.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/search_space.h"

#include <algorithm>
#include <cmath>

#include "cases/studies/points.h"

namespace lodegear {

namespace {

/// Above every goal, which are of the order of 1, and small enough to leave digits to a distance.
constexpr double forbidden = 1e6;
constexpr double never_built = 1e3;

}  // namespace

double distance_to_allowed(const PointValue& value) {
  if (value.not_built > 0.0) return never_built + value.not_built;
  double sum = 0.0;
  for (const double miss : value.misses) sum += std::max(miss, 0.0);
  return std::min(sum, never_built);
}

double merit(const PointValue& value) {
  const double distance = distance_to_allowed(value);
  return distance > 0.0 ? forbidden + distance : value.goals.front();
}

bool dominates(const PointValue& a, const PointValue& b) {
  const double off_a = distance_to_allowed(a), off_b = distance_to_allowed(b);
  if (off_a > 0.0 || off_b > 0.0) return off_a < off_b;
  bool better = false;
  for (std::size_t i = 0; i < a.goals.size(); ++i) {
    if (a.goals[i] > b.goals[i]) return false;
    better = better || a.goals[i] < b.goals[i];
  }
  return better;
}

std::vector<SearchPoint> first_look(const SearchSpace& space, int n, std::uint32_t seed) {
  std::vector<SearchPoint> points = latin_hypercube(n, static_cast<int>(space.size()), seed);
  for (SearchPoint& point : points)
    for (std::size_t i = 0; i < space.size(); ++i)
      if (space[i].choices > 0) point[i] = std::floor(point[i] * space[i].choices);
  return points;
}

int costly(const Trail& trail) {
  return static_cast<int>(std::count_if(trail.begin(), trail.end(),
                                        [](const AskedPoint& p) { return !p.value.cheap; }));
}

Trail looked_at(const SearchSpace& space, int n, int most, std::uint32_t seed,
                const Evaluate& evaluate) {
  constexpr std::uint32_t most_times = 8;
  Trail trail;
  for (std::uint32_t i = 0; i < most_times && costly(trail) < n; ++i) {
    const int asked = static_cast<int>(trail.size());
    std::vector<SearchPoint> points = first_look(space, n, seed + 104729 * i);
    points.resize(static_cast<std::size_t>(std::clamp(most - asked, 0, n)));
    // In parts, so that hardly more than n are worked on.
    const auto part = static_cast<std::size_t>(std::max(n - costly(trail), 1));
    for (std::size_t from = 0; from < points.size() && costly(trail) < n; from += part) {
      const std::vector<SearchPoint> some(
          points.begin() + static_cast<long>(from),
          points.begin() + static_cast<long>(std::min(from + part, points.size())));
      const std::vector<PointValue> values = evaluate(some);
      for (std::size_t k = 0; k < some.size(); ++k) trail.push_back({some[k], values[k]});
    }
  }
  return trail;
}

long combinations(const SearchSpace& space, long most) {
  long n = 1;
  for (const Axis& axis : space) n = std::min(n * axis.choices, most + 1);
  return n;
}

std::vector<SearchPoint> all_combinations(const SearchSpace& space) {
  std::vector<SearchPoint> all(1);
  for (const Axis& axis : space) {
    std::vector<SearchPoint> longer;
    for (const SearchPoint& point : all)
      for (int choice = 0; choice < axis.choices; ++choice) {
        longer.push_back(point);
        longer.back().push_back(choice);
      }
    all = std::move(longer);
  }
  return all;
}

std::vector<SearchPoint> neighbours(const SearchSpace& space, const SearchPoint& point) {
  std::vector<SearchPoint> all;
  for (std::size_t i = 0; i < space.size(); ++i)
    for (int choice = 0; choice < space[i].choices; ++choice) {
      const double off = std::abs(choice - point[i]);
      if (off < 0.5 || (space[i].ordered && off > 1.5)) continue;
      all.push_back(point);
      all.back()[i] = choice;
    }
  return all;
}

}  // namespace lodegear
