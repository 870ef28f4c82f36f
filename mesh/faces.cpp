// mesh/faces.cpp — faces of a drawing by walking its half-edges.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "mesh/pieces.h"

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

// Half-edge 2e runs along edge e, 2e+1 against it. The face on the left of a half-edge is walked by
// turning, at each point, into the next half-edge clockwise from the one just come along.

static Curve reversed(const Curve& c) {
  Curve r = c;
  std::swap(r.from, r.to);
  r.sweep = -c.sweep;
  return r;
}

static Curve half_edge_curve(const Arrangement& a, int h) {
  const Curve& c = a.edges[static_cast<std::size_t>(h / 2)].curve;
  return h % 2 == 0 ? c : reversed(c);
}
static int start_of(const Arrangement& a, int h) {
  const ArrangementEdge& e = a.edges[static_cast<std::size_t>(h / 2)];
  return h % 2 == 0 ? e.from : e.to;
}

/// Direction in which curve c crosses a small circle of radius rho about its start, rad in [0, 2π).
/// Tells curves apart that leave in the same direction with different curvature.
static double direction_nearby(const Curve& c, double rho) {
  double angle = start_direction(c);
  if (c.is_arc()) angle += std::copysign(std::asin(std::min(1.0, rho / (2 * c.radius))), c.sweep);
  angle = std::fmod(angle, 2 * pi);
  return angle < 0.0 ? angle + 2 * pi : angle;
}

/// Half-edges leaving each point, counter-clockwise.
static std::vector<std::vector<int>> stars(const Arrangement& a) {
  std::vector<std::vector<int>> star(a.points.size());
  std::vector<double> reach(a.points.size(), std::numeric_limits<double>::max());
  for (int h = 0; h < static_cast<int>(2 * a.edges.size()); ++h) {
    const auto p = static_cast<std::size_t>(start_of(a, h));
    star[p].push_back(h);
    reach[p] = std::min(reach[p], 0.2 * length(half_edge_curve(a, h)));
  }
  for (std::size_t p = 0; p < star.size(); ++p) {
    std::vector<std::pair<double, int>> sorted;
    for (int h : star[p]) sorted.emplace_back(direction_nearby(half_edge_curve(a, h), reach[p]), h);
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t i = 0; i < sorted.size(); ++i) star[p][i] = sorted[i].second;
  }
  return star;
}

static std::vector<int> successors(const Arrangement& a) {
  std::vector<int> next(2 * a.edges.size(), -1);
  for (const std::vector<int>& star : stars(a))
    for (std::size_t i = 0; i < star.size(); ++i) {
      const int arriving = star[i] ^ 1;
      next[static_cast<std::size_t>(arriving)] = star[(i + star.size() - 1) % star.size()];
    }
  return next;
}

Loop loop_curves(const Arrangement& a, const std::vector<DirectedEdge>& loop) {
  Loop curves;
  for (const DirectedEdge& d : loop)
    curves.push_back(half_edge_curve(a, 2 * d.edge + (d.forward ? 0 : 1)));
  return curves;
}

static std::vector<std::vector<DirectedEdge>> walked_loops(const Arrangement& a) {
  const std::vector<int> next = successors(a);
  std::vector<bool> seen(next.size(), false);
  std::vector<std::vector<DirectedEdge>> loops;
  for (std::size_t start = 0; start < next.size(); ++start) {
    if (seen[start]) continue;
    std::vector<DirectedEdge> loop;
    for (int h = static_cast<int>(start); !seen[static_cast<std::size_t>(h)];
         h = next[static_cast<std::size_t>(h)]) {
      seen[static_cast<std::size_t>(h)] = true;
      loop.push_back({h / 2, h % 2 == 0});
    }
    loops.push_back(std::move(loop));
  }
  return loops;
}

/// The smallest face whose outer loop holds the hole, −1 if none. Faces of the hole's own component
/// are no larger than the hole; no other loop shares a point with it, for such are walked as one.
static int face_around(const Arrangement& a, const Loop& hole) {
  int best = -1;
  double best_area = std::numeric_limits<double>::max();
  for (std::size_t f = 0; f < a.faces.size(); ++f) {
    const Loop outer = loop_curves(a, a.faces[f].loops.front());
    const double size = signed_area(outer);
    if (size >= best_area || size <= -signed_area(hole) * (1.0 + 1e-9)) continue;
    if (winding_number(outer, point_at(hole.front(), 0.5)) == 0) continue;
    best = static_cast<int>(f);
    best_area = size;
  }
  return best;
}

/// True for a counter-clockwise loop; an edge walked there and back has no area but round-off.
static bool runs_around_something(const Loop& loop) {
  double perimeter = 0.0;
  for (const Curve& c : loop) perimeter += length(c);
  return signed_area(loop) > 1e-10 * perimeter * perimeter;
}

void find_faces(Arrangement& a) {
  a.faces.clear();
  std::vector<std::vector<DirectedEdge>> holes;
  for (std::vector<DirectedEdge>& loop : walked_loops(a)) {
    if (runs_around_something(loop_curves(a, loop)))
      a.faces.push_back({{std::move(loop)}, std::nullopt});
    else
      holes.push_back(std::move(loop));
  }
  for (std::vector<DirectedEdge>& hole : holes) {
    const int f = face_around(a, loop_curves(a, hole));
    if (f >= 0) a.faces[static_cast<std::size_t>(f)].loops.push_back(std::move(hole));
  }
  for (ArrangementEdge& e : a.edges) e.left = e.right = -1;
  for (std::size_t f = 0; f < a.faces.size(); ++f)
    for (const auto& loop : a.faces[f].loops)
      for (const DirectedEdge& d : loop) {
        ArrangementEdge& e = a.edges[static_cast<std::size_t>(d.edge)];
        (d.forward ? e.left : e.right) = static_cast<int>(f);
      }
}

double area(const Arrangement& a, const ArrangementFace& f) {
  double sum = 0.0;
  for (const auto& loop : f.loops) sum += signed_area(loop_curves(a, loop));
  return sum;
}

Vector2d interior_point(const Arrangement& a, const ArrangementFace& f) {
  std::vector<Loop> loops;
  for (const auto& loop : f.loops) loops.push_back(loop_curves(a, loop));
  const auto inside = [&loops](const Vector2d& x) {
    if (winding_number(loops.front(), x) != 1) return false;
    return std::all_of(loops.begin() + 1, loops.end(),
                       [&x](const Loop& hole) { return winding_number(hole, x) == 0; });
  };
  double depth = 0.25;  // of the lengths of the curves; less and less
  for (int attempt = 0; attempt < 9; ++attempt, depth /= 4)
    for (const Curve& c : loops.front()) {
      const Vector2d a0 = point_at(c, 0.49), a1 = point_at(c, 0.51), along = (a1 - a0).normalized();
      const Vector2d x = point_at(c, 0.5) + depth * length(c) * Vector2d(-along.y(), along.x());
      if (inside(x)) return x;
    }
  throw std::runtime_error("a face of the drawing has no interior");
}

}  // namespace lodegear
