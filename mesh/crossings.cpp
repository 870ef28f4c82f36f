// mesh/crossings.cpp — line and circle intersections.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/crossings.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

/// Angle from the arc's start to x in the arc's direction, in (−π, π] about the arc's middle.
static double arc_fraction(const Curve& c, const Vector2d& x) {
  const Vector2d middle = turned(c.from - c.centre, c.sweep / 2), d = x - c.centre;
  const double from_middle = std::atan2(cross(middle, d), middle.dot(d));
  return 0.5 + from_middle / c.sweep;
}

NearestPoint nearest_point(const Curve& c, const Vector2d& x) {
  double t = 0.0;
  if (c.is_arc()) {
    t = arc_fraction(c, x);
  } else {
    const Vector2d d = c.to - c.from;
    t = d.dot(x - c.from) / d.squaredNorm();
  }
  if (t > 0.0 && t < 1.0 && c.is_arc()) return {std::abs((x - c.centre).norm() - c.radius), t};
  if (c.is_arc() && (x - c.from).norm() < (x - c.to).norm()) return {(x - c.from).norm(), 0.0};
  if (c.is_arc()) return {(x - c.to).norm(), 1.0};
  t = std::clamp(t, 0.0, 1.0);
  return {(x - point_at(c, t)).norm(), t};
}

static std::vector<Vector2d> line_line(const Curve& a, const Curve& b) {
  const Vector2d d = a.to - a.from, e = b.to - b.from;
  const double det = cross(d, e);
  if (std::abs(det) < 1e-12 * d.norm() * e.norm()) return {};
  return {a.from + cross(b.from - a.from, e) / det * d};
}

static std::vector<Vector2d> line_circle(const Curve& l, const Curve& c, double tolerance) {
  const Vector2d u = (l.to - l.from).normalized();
  const Vector2d foot = l.from + u.dot(c.centre - l.from) * u;
  const double distance = (foot - c.centre).norm();
  if (distance > c.radius + tolerance) return {};
  if (distance > c.radius - tolerance) return {foot};  // touching: one point
  const double half = std::sqrt(c.radius * c.radius - distance * distance);
  return {foot - half * u, foot + half * u};
}

static std::vector<Vector2d> circle_circle(const Curve& a, const Curve& b, double tolerance) {
  const Vector2d d = b.centre - a.centre;
  const double D = d.norm();
  if (D < tolerance) return {};  // one centre: the same circle or none in common
  if (D > a.radius + b.radius + tolerance) return {};
  if (D < std::abs(a.radius - b.radius) - tolerance) return {};
  const double along = (D * D + a.radius * a.radius - b.radius * b.radius) / (2 * D);
  const double square = a.radius * a.radius - along * along;
  const Vector2d foot = a.centre + along / D * d;
  const bool touching = D > a.radius + b.radius - tolerance ||
                        D < std::abs(a.radius - b.radius) + tolerance || square <= 0.0;
  if (touching) return {foot};
  const Vector2d across = std::sqrt(square) / D * Vector2d(-d.y(), d.x());
  return {foot - across, foot + across};
}

static std::vector<Vector2d> unbounded_crossings(const Curve& a, const Curve& b, double tolerance) {
  if (a.is_arc() && b.is_arc()) return circle_circle(a, b, tolerance);
  if (a.is_arc()) return line_circle(b, a, tolerance);
  if (b.is_arc()) return line_circle(a, b, tolerance);
  return line_line(a, b);
}

std::vector<Vector2d> crossings(const Curve& a, const Curve& b, double tolerance) {
  std::vector<Vector2d> common;
  for (const auto& [c, other] : {std::pair{&a, &b}, std::pair{&b, &a}})
    for (const Vector2d& end : {c->from, c->to})
      if (nearest_point(*other, end).distance < tolerance) common.push_back(end);
  for (const Vector2d& x : unbounded_crossings(a, b, tolerance))
    if (nearest_point(a, x).distance < tolerance && nearest_point(b, x).distance < tolerance)
      common.push_back(x);
  return common;
}

}  // namespace lodegear
