// mesh/pieces.cpp — cutting curves at their meetings.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/pieces.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "mesh/crossings.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

/// Axis-parallel box around a curve, to pass over pairs that cannot meet.
struct Box {
  Vector2d low, high;
  explicit Box(const Curve& c) : low(c.from.cwiseMin(c.to)), high(c.from.cwiseMax(c.to)) {
    if (!c.is_arc()) return;
    const Vector2d middle = point_at(c, 0.5), bulge = 2 * (middle - (c.from + c.to) / 2);
    for (const Vector2d& x : {Vector2d(c.from + bulge), Vector2d(c.to + bulge)}) {
      low = low.cwiseMin(x);
      high = high.cwiseMax(x);
    }
  }
  bool near(const Box& b, double tolerance) const {
    return (low.array() <= b.high.array() + tolerance).all() &&
           (b.low.array() <= high.array() + tolerance).all();
  }
};

/// Points, equal ones kept once; found again by grid cell.
class PointPool {
 public:
  explicit PointPool(double tolerance) : tolerance_(tolerance) {}

  int index(const Vector2d& x) {
    const auto [i, j] = cell(x);
    for (long di = -1; di <= 1; ++di)
      for (long dj = -1; dj <= 1; ++dj)
        for (int p : cells_[{i + di, j + dj}])
          if ((points_[static_cast<std::size_t>(p)] - x).norm() < tolerance_) return p;
    points_.push_back(x);
    cells_[{i, j}].push_back(static_cast<int>(points_.size()) - 1);
    return static_cast<int>(points_.size()) - 1;
  }
  const std::vector<Vector2d>& points() const { return points_; }

 private:
  std::pair<long, long> cell(const Vector2d& x) const {
    return {std::lround(x.x() / (2 * tolerance_)), std::lround(x.y() / (2 * tolerance_))};
  }
  double tolerance_;
  std::vector<Vector2d> points_;
  std::map<std::pair<long, long>, std::vector<int>> cells_;
};

using Cuts = std::vector<std::vector<std::pair<double, int>>>;  // per curve: fraction, point

}  // namespace

static Cuts cuts_of(const std::vector<Curve>& curves, PointPool& pool, double tolerance) {
  Cuts cuts(curves.size());
  std::vector<Box> boxes(curves.begin(), curves.end());
  for (std::size_t i = 0; i < curves.size(); ++i) {
    cuts[i].emplace_back(0.0, pool.index(curves[i].from));
    cuts[i].emplace_back(1.0, pool.index(curves[i].to));
  }
  for (std::size_t i = 0; i < curves.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      if (!boxes[i].near(boxes[j], tolerance)) continue;
      for (const Vector2d& x : crossings(curves[i], curves[j], tolerance)) {
        const int point = pool.index(x);
        cuts[i].emplace_back(nearest_point(curves[i], x).t, point);
        cuts[j].emplace_back(nearest_point(curves[j], x).t, point);
      }
    }
  return cuts;
}

/// The part of c between two cuts.
static ArrangementEdge piece(const Curve& c, const std::pair<double, int>& a,
                             const std::pair<double, int>& b, const std::vector<Vector2d>& points) {
  ArrangementEdge edge;
  edge.from = a.second;
  edge.to = b.second;
  edge.curve = c;
  edge.curve.from = points[static_cast<std::size_t>(a.second)];
  edge.curve.to = points[static_cast<std::size_t>(b.second)];
  edge.curve.sweep = c.sweep * (b.first - a.first);
  return edge;
}

static bool coincide(const ArrangementEdge& a, const ArrangementEdge& b, double tolerance) {
  return (point_at(a.curve, 0.5) - point_at(b.curve, 0.5)).norm() < tolerance;
}

Arrangement cut_into_pieces(const std::vector<Curve>& curves, double tolerance) {
  PointPool pool(tolerance);
  Cuts cuts = cuts_of(curves, pool, tolerance);
  Arrangement result;
  result.points = pool.points();
  std::map<std::pair<int, int>, std::vector<int>> known;  // by the two points
  for (std::size_t i = 0; i < curves.size(); ++i) {
    std::sort(cuts[i].begin(), cuts[i].end());
    for (std::size_t k = 1; k < cuts[i].size(); ++k) {
      if (cuts[i][k].second == cuts[i][k - 1].second) continue;
      ArrangementEdge edge = piece(curves[i], cuts[i][k - 1], cuts[i][k], result.points);
      edge.source = static_cast<int>(i);
      std::vector<int>& same_ends = known[std::minmax(edge.from, edge.to)];
      const bool there = std::any_of(same_ends.begin(), same_ends.end(), [&](int e) {
        return coincide(result.edges[static_cast<std::size_t>(e)], edge, tolerance);
      });
      if (there) continue;
      same_ends.push_back(static_cast<int>(result.edges.size()));
      result.edges.push_back(edge);
    }
  }
  return result;
}

void join_pieces(Arrangement& a) {
  std::vector<std::vector<int>> at(a.points.size());
  for (std::size_t e = 0; e < a.edges.size(); ++e)
    for (int p : {a.edges[e].from, a.edges[e].to})
      at[static_cast<std::size_t>(p)].push_back(static_cast<int>(e));
  std::vector<bool> gone(a.edges.size(), false);
  for (std::size_t p = 0; p < at.size(); ++p) {
    if (at[p].size() != 2) continue;
    int before = at[p][0], after = at[p][1];
    if (a.edges[static_cast<std::size_t>(before)].to != static_cast<int>(p))
      std::swap(before, after);
    ArrangementEdge& first = a.edges[static_cast<std::size_t>(before)];
    const ArrangementEdge& second = a.edges[static_cast<std::size_t>(after)];
    const bool in_line = first.to == static_cast<int>(p) && second.from == static_cast<int>(p);
    if (!in_line || first.source != second.source) continue;
    first.to = second.to;
    first.curve.to = second.curve.to;
    first.curve.sweep += second.curve.sweep;
    std::vector<int>& end = at[static_cast<std::size_t>(second.to)];
    std::replace(end.begin(), end.end(), after, before);
    gone[static_cast<std::size_t>(after)] = true;
  }
  std::size_t kept = 0;
  for (std::size_t e = 0; e < a.edges.size(); ++e)
    if (!gone[e]) a.edges[kept++] = a.edges[e];
  a.edges.resize(kept);
}

}  // namespace lodegear
