// mesh/bulges.cpp — finding and halving the sides that bulge too far.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/bulges.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "mesh/crossings.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

// A triangle of height H on a side that bulges by h into it has, beside that side, the Jacobian
// (H − 4 h)/H of a straight one. Six bulges leave a third.
constexpr double bulges_of_room = 6.0;

/// A chord with the arc over it.
struct Bulge {
  Vector2d a, b;       // the chord
  Vector2d middle;     // of the chord
  Vector2d direction;  // unit, from the chord to the arc
  double height = 0.0;

  Bulge(const Curve& arc, const Vector2d& from, const Vector2d& to)
      : a(from), b(to), middle((from + to) / 2) {
    const Vector2d outwards = (middle - arc.centre).normalized();
    height = (arc.centre + arc.radius * outwards - middle).norm();
    direction = outwards;
  }

  /// Whether x lies over the chord, nearer than the room it needs there.
  bool crowds(const Vector2d& x) const {
    const Vector2d d = b - a;
    const double t = d.dot(x - a) / d.squaredNorm();
    if (t <= 0.0 || t >= 1.0) return false;
    const double offset = direction.dot(x - middle);
    return offset > -1e-9 * d.norm() && offset < bulges_of_room * height * 4 * t * (1 - t);
  }
  /// Whether the straight side from x to y passes the arc's top nearer than that.
  bool crowds(const Vector2d& x, const Vector2d& y) const {
    const Vector2d near = point_at(line(x, y), nearest_point(line(x, y), middle).t);
    const double offset = direction.dot(near - middle);
    return offset > 0.0 && (near - middle).norm() < bulges_of_room * height;
  }
};

std::vector<int> nodes_in_use(const CutDrawing& cut) {
  std::vector<int> nodes;
  for (const std::vector<int>& along : cut.along)
    nodes.insert(nodes.end(), along.begin(), along.end());
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

using Sides = std::map<std::pair<int, int>, int>;

/// How many edges each side belongs to: two, where an arc and its chord are both uncut.
Sides sides_in_use(const CutDrawing& cut) {
  Sides sides;
  for (const std::vector<int>& along : cut.along)
    for (std::size_t i = 1; i < along.size(); ++i) ++sides[std::minmax(along[i - 1], along[i])];
  return sides;
}

bool is_crowded(const CutDrawing& cut, const Curve& arc, int a, int b,
                const std::vector<int>& nodes, const Sides& sides) {
  const auto at = [&cut](int n) -> const Vector2d& {
    return cut.nodes[static_cast<std::size_t>(n)];
  };
  if (sides.at(std::minmax(a, b)) > 1) return true;
  const Bulge bulge(arc, at(a), at(b));
  const bool by_node = std::any_of(nodes.begin(), nodes.end(),
                                   [&](int n) { return n != a && n != b && bulge.crowds(at(n)); });
  return by_node || std::any_of(sides.begin(), sides.end(), [&](const auto& side) {
           const auto& [c, d] = side.first;
           return c != a && c != b && d != a && d != b && bulge.crowds(at(c), at(d));
         });
}

bool may_change(const UnitDrawing& unit, const Curve& c) {
  if (!c.is_arc()) return false;
  const double r = c.centre.norm() == 0.0 ? c.radius : 0.0, tolerance = 1e-8 * c.radius;
  return std::abs(r - unit.limits.inner.radius) > tolerance &&
         std::abs(r - unit.limits.outer.radius) > tolerance;
}

/// One round over an edge; true if a side was halved.
bool halve_crowded(CutDrawing& cut, const Curve& arc, std::vector<int>& along,
                   const std::vector<int>& nodes, const Sides& sides) {
  std::vector<int> finer{along.front()};
  for (std::size_t i = 1; i < along.size(); ++i) {
    if (is_crowded(cut, arc, along[i - 1], along[i], nodes, sides)) {
      const Vector2d middle = (cut.nodes[static_cast<std::size_t>(along[i - 1])] +
                               cut.nodes[static_cast<std::size_t>(along[i])]) /
                              2;
      finer.push_back(static_cast<int>(cut.nodes.size()));
      cut.nodes.push_back(arc.centre + arc.radius * (middle - arc.centre).normalized());
    }
    finer.push_back(along[i]);
  }
  const bool changed = finer.size() != along.size();
  along = std::move(finer);
  return changed;
}

}  // namespace

void relieve_bulges(const UnitDrawing& unit, const Arrangement& drawing, CutDrawing& cut) {
  constexpr int most_rounds = 8;  // sides 256 times shorter have bulges 65000 times lower
  bool changed = true;
  for (int round = 0; round < most_rounds && changed; ++round) {
    changed = false;
    const std::vector<int> nodes = nodes_in_use(cut);
    const Sides sides = sides_in_use(cut);
    for (std::size_t e = 0; e < cut.along.size(); ++e)
      if (!cut.along[e].empty() && may_change(unit, drawing.edges[e].curve))
        changed |= halve_crowded(cut, drawing.edges[e].curve, cut.along[e], nodes, sides);
  }
}

}  // namespace lodegear
