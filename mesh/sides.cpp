// mesh/sides.cpp — pairing the two sides of a sector.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/sides.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

namespace lodegear {

using Eigen::Vector2d;

static double tolerance(const UnitDrawing& unit) {
  return 10 * coincidence_tolerance * unit.limits.outer.radius;
}

/// Points used by an edge on the ray at `angle`, from the axis outwards, the axis left out.
static std::vector<int> points_on_ray(const UnitDrawing& unit, const Arrangement& drawing,
                                      double angle) {
  const Vector2d ray = polar(1.0, angle);
  std::set<int> used;
  for (const ArrangementEdge& e : drawing.edges) used.insert({e.from, e.to});
  std::vector<int> on_ray;
  for (int p : used) {
    const Vector2d& x = drawing.points[static_cast<std::size_t>(p)];
    if (std::abs(cross(ray, x)) < tolerance(unit) && ray.dot(x) > tolerance(unit))
      on_ray.push_back(p);
  }
  std::sort(on_ray.begin(), on_ray.end(), [&](int a, int b) {
    return drawing.points[static_cast<std::size_t>(a)].norm() <
           drawing.points[static_cast<std::size_t>(b)].norm();
  });
  return on_ray;
}

static std::runtime_error no_copy(const UnitDrawing& unit) {
  return std::runtime_error(std::string("the sides of a sector of the ") + name_of(unit.member) +
                            " do not repeat");
}

std::vector<SidePair> side_points(const UnitDrawing& unit, const Arrangement& drawing) {
  if (unit.n_sectors == 1) return {};
  const std::vector<int> lower = points_on_ray(unit, drawing, unit.start_angle);
  const std::vector<int> upper = points_on_ray(unit, drawing, unit.start_angle + unit.angle);
  if (lower.size() != upper.size()) throw no_copy(unit);
  std::vector<SidePair> pairs;
  for (std::size_t i = 0; i < lower.size(); ++i) {
    const Vector2d& a = drawing.points[static_cast<std::size_t>(lower[i])];
    const Vector2d& b = drawing.points[static_cast<std::size_t>(upper[i])];
    if ((turned(a, unit.angle) - b).norm() > tolerance(unit)) throw no_copy(unit);
    pairs.push_back({lower[i], upper[i]});
  }
  return pairs;
}

std::vector<SidePair> side_edges(const UnitDrawing& unit, const Arrangement& drawing) {
  std::map<int, int> upper_of;
  for (const SidePair& p : side_points(unit, drawing)) upper_of[p.lower] = p.upper;
  if (upper_of.empty()) return {};
  for (std::size_t p = 0; p < drawing.points.size(); ++p)  // the axis
    if (drawing.points[p].norm() < tolerance(unit))
      upper_of[static_cast<int>(p)] = static_cast<int>(p);
  std::map<std::pair<int, int>, int> straight;
  for (std::size_t e = 0; e < drawing.edges.size(); ++e)
    if (!drawing.edges[e].curve.is_arc())
      straight[std::minmax(drawing.edges[e].from, drawing.edges[e].to)] = static_cast<int>(e);
  std::vector<SidePair> pairs;
  for (const auto& [ends, e] : straight) {
    if (!upper_of.contains(ends.first) || !upper_of.contains(ends.second)) continue;
    const auto copy = straight.find(std::minmax(upper_of[ends.first], upper_of[ends.second]));
    if (copy == straight.end()) throw no_copy(unit);
    pairs.push_back({e, copy->second});
  }
  return pairs;
}

}  // namespace lodegear
