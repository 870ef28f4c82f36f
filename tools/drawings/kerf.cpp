// tools/drawings/kerf.cpp — moving lines and arcs aside and joining them again.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/kerf.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "materials/input_error.h"
#include "mesh/crossings.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

constexpr double same_direction = 1e-6;  // rad; tangents of a rounding agree to round-off

double end_direction(const Curve& c) { return start_direction(c) + c.sweep; }
Vector2d right_of(double direction) { return polar(1.0, direction - std::numbers::pi / 2); }

/// The curve moved to the right of its travel. None where an arc has nothing left.
std::optional<Curve> aside(const Curve& c, double by) {
  Curve moved = c;
  if (c.is_arc()) {
    moved.radius = c.radius + std::copysign(by, c.sweep);
    if (moved.radius <= 1e-9 * c.radius) return std::nullopt;
  }
  moved.from = c.from + by * right_of(start_direction(c));
  moved.to = c.to + by * right_of(end_direction(c));
  return moved;
}

/// c between other ends that lie on it or on its continuation.
void set_ends(Curve& c, const Vector2d& from, const Vector2d& to) {
  if (c.is_arc()) {
    const Vector2d a = from - c.centre, b = to - c.centre;
    c.sweep = std::atan2(cross(a, b), a.dot(b));
  }
  c.from = from;
  c.to = to;
}

/// Where two moved curves meet that ran apart at an inner corner.
std::optional<Vector2d> meeting(const Curve& a, const Curve& b, double size) {
  std::optional<Vector2d> best;
  double least = std::numeric_limits<double>::max();
  for (const Vector2d& x : crossings(a, b, 1e-9 * size)) {
    const double off = (x - a.to).norm() + (x - b.from).norm();
    if (off < least) best = x;
    least = std::min(least, off);
  }
  return best;
}

bool goes_on(const Curve& a, const Curve& b) {
  const double turn = std::remainder(start_direction(b) - end_direction(a), 2 * std::numbers::pi);
  if (std::abs(turn) > same_direction || a.is_arc() != b.is_arc()) return false;
  return !a.is_arc() || ((a.centre - b.centre).norm() < 1e-9 * a.radius &&
                         std::abs(a.sweep + b.sweep) < 0.9 * std::numbers::pi);
}

/// Pieces of one line or circle joined again: the meeting with a neighbour at an inner corner may
/// lie beyond a short piece.
Loop joined(Loop loop) {
  for (std::size_t i = 0; i < loop.size() && goes_on(loop.back(), loop.front()); ++i)
    std::rotate(loop.begin(), loop.begin() + 1, loop.end());
  Loop result;
  for (const Curve& c : loop) {
    if (result.empty() || !goes_on(result.back(), c)) {
      result.push_back(c);
      continue;
    }
    result.back().to = c.to;
    result.back().sweep += c.sweep;
  }
  return result;
}

/// The loop moved to the right of its travel; empty where that is not possible.
Loop aside(const Loop& pieces, double by) {
  const Loop loop = joined(pieces);
  const std::size_t n = loop.size();
  Loop sides;
  for (const Curve& c : loop) {
    const auto moved = aside(c, by);
    if (!moved) return {};
    sides.push_back(*moved);
  }
  std::vector<Loop> joints(n);  // after side i
  for (std::size_t i = 0; i < n; ++i) {
    Curve &here = sides[i], &next = sides[(i + 1) % n];
    const Vector2d& corner = loop[i].to;
    const double turn = std::remainder(start_direction(loop[(i + 1) % n]) - end_direction(loop[i]),
                                       2 * std::numbers::pi);
    if (std::abs(turn) < same_direction) {
      next.from = here.to;
    } else if (turn > 0.0) {
      const Vector2d start = here.to - corner;
      const double from = std::atan2(start.y(), start.x());
      joints[i] = arc(corner, by, from, from + turn);
      joints[i].front().from = here.to;
      joints[i].back().to = next.from;
    } else {
      const auto x = meeting(here, next, corner.norm() + by);
      if (!x) return {};
      set_ends(here, here.from, *x);
      set_ends(next, *x, next.to);
    }
  }
  Loop result;
  for (std::size_t i = 0; i < n; ++i) {
    if (loop[i].is_arc() ? sides[i].sweep * loop[i].sweep <= 0.0
                         : (sides[i].to - sides[i].from).dot(loop[i].to - loop[i].from) <= 0.0)
      return {};  // its neighbours have swallowed it
    result.push_back(sides[i]);
    result.insert(result.end(), joints[i].begin(), joints[i].end());
  }
  return result;
}

}  // namespace

FlatPart grown(const FlatPart& part, double by, const std::string& option) {
  const auto checked = [&](const Loop& loop) {
    Loop moved = aside(loop, by);
    if (moved.empty() || signed_area(moved) * signed_area(loop) <= 0.0)
      throw InputError({{{},
                         option,
                         "is too large for an inner edge or hole of the " + part.label.part +
                             "; take a smaller one."}});
    return moved;
  };
  FlatPart result = part;
  result.outline = checked(part.outline);
  for (Loop& hole : result.holes) hole = checked(hole);
  return result;
}

}  // namespace lodegear
