// mesh/cut_drawing.cpp — placing nodes along edges.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/cut_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/bulges.h"
#include "mesh/sides.h"

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

bool is_meshed(const Arrangement& drawing, int face) {
  if (face < 0) return false;
  const auto& label = drawing.faces[static_cast<std::size_t>(face)].label;
  return label && label->material != ideal_iron_name;
}

static bool is_on_circle(const UnitDrawing& unit, const Curve& c, double radius) {
  const double tolerance = 10 * coincidence_tolerance * unit.limits.outer.radius;
  return c.is_arc() && c.centre.norm() < tolerance && std::abs(c.radius - radius) < tolerance;
}

/// Fractions of the length at which a free edge is cut, both ends included. Between neighbours the
/// integral of 1/size is the same.
static std::vector<double> graded_cuts(const Curve& c, const SizeField& size) {
  const double L = length(c);
  const double shortest = std::min({size.at(c.from), size.at(c.to), size.at(point_at(c, 0.5))});
  const int n = std::clamp(static_cast<int>(8 * L / shortest), 16, 2000);
  std::vector<double> sides(1, 0.0);  // number of sides up to sample i
  for (int i = 0; i < n; ++i)
    sides.push_back(sides.back() + L / n / size.at(point_at(c, (i + 0.5) / n)));
  // Rounding up a hundredth of a side more or less is left to the larger side.
  const int wanted = std::max(1, static_cast<int>(std::ceil(sides.back() - 0.2)));
  std::vector<double> cuts{0.0};
  for (int k = 1, i = 0; k < wanted; ++k) {
    const double level = sides.back() * k / wanted;
    while (sides[static_cast<std::size_t>(i) + 1] < level) ++i;
    const double below = sides[static_cast<std::size_t>(i)];
    const double above = sides[static_cast<std::size_t>(i) + 1];
    cuts.push_back((i + (level - below) / (above - below)) / n);
  }
  cuts.push_back(1.0);
  return cuts;
}

static std::vector<double> even_cuts(int n) {
  std::vector<double> cuts;
  for (int i = 0; i <= n; ++i) cuts.push_back(static_cast<double>(i) / n);
  return cuts;
}

static std::vector<double> cuts_of(const UnitDrawing& unit, const Curve& c, const SizeField& size) {
  for (const EndCircle& end : {unit.limits.inner, unit.limits.outer})
    if (end.radius > 0.0 && is_on_circle(unit, c, end.radius)) {
      const double wanted = end.n_edges * std::abs(c.sweep) / (2 * pi);
      return even_cuts(std::max(1, static_cast<int>(std::ceil(wanted - 1e-9))));
    }
  return graded_cuts(c, size);
}

static void cut_edge(CutDrawing& cut, const Arrangement& drawing, int e,
                     const std::vector<double>& at) {
  const ArrangementEdge& edge = drawing.edges[static_cast<std::size_t>(e)];
  std::vector<int>& along = cut.along[static_cast<std::size_t>(e)];
  along.push_back(edge.from);
  for (std::size_t i = 1; i + 1 < at.size(); ++i) {
    along.push_back(static_cast<int>(cut.nodes.size()));
    cut.nodes.push_back(point_at(edge.curve, at[i]));
  }
  along.push_back(edge.to);
}

/// Gives the upper edge the lower one's nodes, turned.
static void copy_edge(CutDrawing& cut, const UnitDrawing& unit, const Arrangement& drawing,
                      const SidePair& pair) {
  const std::vector<int> lower = cut.along[static_cast<std::size_t>(pair.lower)];
  const ArrangementEdge& edge = drawing.edges[static_cast<std::size_t>(pair.upper)];
  const Vector2d start = turned(cut.nodes[static_cast<std::size_t>(lower.front())], unit.angle);
  const Vector2d& from = drawing.points[static_cast<std::size_t>(edge.from)];
  const Vector2d& to = drawing.points[static_cast<std::size_t>(edge.to)];
  const bool same_way = (start - from).norm() < (start - to).norm();
  std::vector<int> upper;
  for (int node : lower) {
    if (node == lower.front()) {
      upper.push_back(same_way ? edge.from : edge.to);
    } else if (node == lower.back()) {
      upper.push_back(same_way ? edge.to : edge.from);
    } else {
      upper.push_back(static_cast<int>(cut.nodes.size()));
      cut.nodes.push_back(turned(cut.nodes[static_cast<std::size_t>(node)], unit.angle));
    }
    if (upper.back() != node) cut.lower_of[upper.back()] = node;
  }
  if (!same_way) std::reverse(upper.begin(), upper.end());
  cut.along[static_cast<std::size_t>(pair.upper)] = std::move(upper);
}

CutDrawing cut_drawing(const UnitDrawing& unit, const Arrangement& drawing, const SizeField& size) {
  CutDrawing cut;
  cut.nodes = drawing.points;
  cut.along.resize(drawing.edges.size());
  const std::vector<SidePair> pairs = side_edges(unit, drawing);
  std::vector<bool> is_copy(drawing.edges.size(), false);
  for (const SidePair& pair : pairs) is_copy[static_cast<std::size_t>(pair.upper)] = true;
  for (std::size_t e = 0; e < drawing.edges.size(); ++e) {
    const ArrangementEdge& edge = drawing.edges[e];
    if (is_copy[e] || !(is_meshed(drawing, edge.left) || is_meshed(drawing, edge.right))) continue;
    cut_edge(cut, drawing, static_cast<int>(e), cuts_of(unit, edge.curve, size));
  }
  for (const SidePair& pair : pairs)
    if (!cut.along[static_cast<std::size_t>(pair.lower)].empty())
      copy_edge(cut, unit, drawing, pair);
  relieve_bulges(unit, drawing, cut);
  for (std::size_t e = 0; e < cut.along.size(); ++e)
    for (std::size_t i = 1; i < cut.along[e].size(); ++i)
      cut.edge_of_side[std::minmax(cut.along[e][i - 1], cut.along[e][i])] = static_cast<int>(e);
  return cut;
}

static std::vector<int> polygon(const CutDrawing& cut, const std::vector<DirectedEdge>& loop) {
  std::vector<int> points;
  for (const DirectedEdge& d : loop) {
    std::vector<int> along = cut.along[static_cast<std::size_t>(d.edge)];
    if (!d.forward) std::reverse(along.begin(), along.end());
    points.insert(points.end(), along.begin(), along.end() - 1);
  }
  return points;
}

PolygonFaces polygons(const Arrangement& drawing, const CutDrawing& cut,
                      std::vector<int>& face_of) {
  PolygonFaces result{cut.nodes, {}};
  for (std::size_t f = 0; f < drawing.faces.size(); ++f) {
    if (!is_meshed(drawing, static_cast<int>(f))) continue;
    face_of.push_back(static_cast<int>(f));
    result.faces.emplace_back();
    for (const auto& loop : drawing.faces[f].loops)
      result.faces.back().push_back(polygon(cut, loop));
  }
  return result;
}

Vector2d middle_on_curve(const Arrangement& drawing, const CutDrawing& cut, int a, int b) {
  const Vector2d& x = cut.nodes[static_cast<std::size_t>(a)];
  const Vector2d& y = cut.nodes[static_cast<std::size_t>(b)];
  const auto side = cut.edge_of_side.find(std::minmax(a, b));
  if (side == cut.edge_of_side.end()) return (x + y) / 2;
  const Curve& c = drawing.edges[static_cast<std::size_t>(side->second)].curve;
  if (!c.is_arc()) return (x + y) / 2;
  return c.centre + c.radius * (x + y - 2 * c.centre).normalized();
}

std::vector<std::vector<int>> chains_on_circle(const UnitDrawing& unit, const Arrangement& drawing,
                                               const CutDrawing& cut, double radius) {
  std::vector<std::pair<double, std::vector<int>>> chains;
  for (std::size_t e = 0; e < cut.along.size(); ++e) {
    const Curve& c = drawing.edges[e].curve;
    if (cut.along[e].empty() || !is_on_circle(unit, c, radius)) continue;
    std::vector<int> nodes = cut.along[e];
    if (c.sweep < 0.0) std::reverse(nodes.begin(), nodes.end());
    const Vector2d middle = turned(point_at(c, 0.5), -unit.start_angle);
    const double angle = std::atan2(middle.y(), middle.x());
    chains.emplace_back(angle < 0.0 ? angle + 2 * pi : angle, std::move(nodes));
  }
  std::sort(chains.begin(), chains.end());
  std::vector<std::vector<int>> sorted;
  for (auto& chain : chains) sorted.push_back(std::move(chain.second));
  return sorted;
}

}  // namespace lodegear
