// tools/drawings/flat_part.cpp — measuring, moving and finding flat parts.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/flat_part.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "materials/constants.h"
#include "mesh/arrangement.h"
#include "mesh/crossings.h"
#include "mesh/pieces.h"

namespace lodegear {

using Eigen::Vector2d;

double area(const FlatPart& part) {
  double sum = signed_area(part.outline);
  for (const Loop& hole : part.holes) sum += signed_area(hole);
  return sum;
}

double length_of_cut(const FlatPart& part) {
  double sum = 0.0;
  for (const Curve& c : part.outline) sum += length(c);
  for (const Loop& hole : part.holes)
    for (const Curve& c : hole) sum += length(c);
  return sum;
}

Loop turned(Loop loop, double angle) {
  for (Curve& c : loop) {
    c.from = turned(c.from, angle);
    c.to = turned(c.to, angle);
    c.centre = turned(c.centre, angle);
  }
  return loop;
}
Loop moved(Loop loop, const Vector2d& by) {
  for (Curve& c : loop) {
    c.from += by;
    c.to += by;
    c.centre += by;
  }
  return loop;
}

FlatPart turned(FlatPart part, double angle) {
  part.outline = turned(part.outline, angle);
  for (Loop& hole : part.holes) hole = turned(hole, angle);
  return part;
}
FlatPart moved(FlatPart part, const Vector2d& by) {
  part.outline = moved(part.outline, by);
  for (Loop& hole : part.holes) hole = moved(hole, by);
  return part;
}

static bool passes(const Curve& c, const Vector2d& direction) {
  const double from = std::atan2(c.from.y() - c.centre.y(), c.from.x() - c.centre.x());
  double turn = std::atan2(direction.y(), direction.x()) - from;
  if (c.sweep < 0.0) turn = -turn;
  turn = std::fmod(turn + 4 * pi, 2 * pi);
  return turn <= std::abs(c.sweep);
}

Extent extent(const Loop& loop) {
  Extent e{loop.front().from, loop.front().from};
  const auto hold = [&e](const Vector2d& x) {
    e.low = e.low.cwiseMin(x);
    e.high = e.high.cwiseMax(x);
  };
  for (const Curve& c : loop) {
    hold(c.from);
    if (!c.is_arc()) continue;
    for (const Vector2d& d : {Vector2d(1, 0), Vector2d(0, 1), Vector2d(-1, 0), Vector2d(0, -1)})
      if (passes(c, d)) hold(c.centre + c.radius * d);
  }
  return e;
}

bool is_circle(const Loop& loop, WholeCircle& circle) {
  const Curve& first = loop.front();
  const double near = 1e-9 * first.radius;
  for (const Curve& c : loop)
    if (!c.is_arc() || (c.centre - first.centre).norm() > near ||
        std::abs(c.radius - first.radius) > near)
      return false;
  circle = {first.centre, first.radius};
  return true;
}

double distance(const Loop& a, const Loop& b) {
  double least = std::numeric_limits<double>::max();
  for (const auto& [from, to] : {std::pair{&a, &b}, {&b, &a}})
    for (const Curve& c : *from)
      for (int i = 0; i < 16; ++i)
        for (const Curve& d : *to)
          least = std::min(least, nearest_point(d, point_at(c, i / 16.0)).distance);
  return least;
}

std::vector<FlatPart> flat_parts(const Outline& domain, const std::vector<Outline>& outlines) {
  const Arrangement drawing = arrangement(domain, outlines);
  std::vector<FlatPart> parts;
  for (const ArrangementFace& face : drawing.faces) {
    if (!face.label || face.label->kind == RegionKind::air) continue;
    FlatPart part{*face.label, loop_curves(drawing, face.loops.front()), {}};
    for (std::size_t i = 1; i < face.loops.size(); ++i)
      part.holes.push_back(loop_curves(drawing, face.loops[i]));
    parts.push_back(std::move(part));
  }
  std::stable_sort(parts.begin(), parts.end(), [](const FlatPart& a, const FlatPart& b) {
    return std::tie(a.label.part, a.label.index) < std::tie(b.label.part, b.label.index);
  });
  return parts;
}

}  // namespace lodegear
