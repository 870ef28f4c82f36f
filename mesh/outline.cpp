// mesh/outline.cpp — lines, arcs, loops, and whether a point lies inside.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/outline.h"

#include <cmath>
#include <numbers>

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }
Vector2d polar(double r, double angle) { return {r * std::cos(angle), r * std::sin(angle)}; }
Vector2d turned(const Vector2d& x, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return {c * x.x() - s * x.y(), s * x.x() + c * x.y()};
}

Curve line(const Vector2d& from, const Vector2d& to) {
  Curve c;
  c.from = from;
  c.to = to;
  return c;
}

std::vector<Curve> arc(const Vector2d& centre, double radius, double a, double b) {
  const int n = std::max(1, static_cast<int>(std::ceil(std::abs(b - a) / (pi / 2) - 1e-9)));
  std::vector<Curve> pieces;
  for (int i = 0; i < n; ++i) {
    Curve c;
    c.from = i == 0 ? Vector2d(centre + polar(radius, a)) : pieces.back().to;
    c.to = centre + polar(radius, a + (b - a) * (i + 1) / n);
    c.centre = centre;
    c.radius = radius;
    c.sweep = (b - a) / n;
    pieces.push_back(c);
  }
  return pieces;
}

double length(const Curve& c) {
  return c.is_arc() ? c.radius * std::abs(c.sweep) : (c.to - c.from).norm();
}

Vector2d point_at(const Curve& c, double t) {
  if (t <= 0.0) return c.from;
  if (t >= 1.0) return c.to;
  if (!c.is_arc()) return c.from + t * (c.to - c.from);
  const Vector2d d = c.from - c.centre;
  return c.centre + polar(c.radius, std::atan2(d.y(), d.x()) + t * c.sweep);
}

double start_direction(const Curve& c) {
  const Vector2d d = c.is_arc() ? Vector2d(c.from - c.centre) : Vector2d(c.to - c.from);
  const double turn = c.is_arc() ? std::copysign(pi / 2, c.sweep) : 0.0;
  return std::atan2(d.y(), d.x()) + turn;
}

double swept_area(const Curve& c) {
  const double chord = 0.5 * cross(c.from, c.to);
  if (!c.is_arc()) return chord;
  return chord + 0.5 * c.radius * c.radius * (c.sweep - std::sin(c.sweep));
}

double signed_area(const Loop& loop) {
  double area = 0.0;
  for (const Curve& c : loop) area += swept_area(c);
  return area;
}

/// Angle under which x sees the curve pass, rad. Between the chord and its arc the chord passes on
/// the wrong side, which is a full turn.
static double seen_angle(const Curve& c, const Vector2d& x) {
  const Vector2d a = c.from - x, b = c.to - x;
  const double side = cross(a, b);
  double angle = std::atan2(side, a.dot(b));
  if (!c.is_arc() || (x - c.centre).norm() >= c.radius) return angle;
  if (c.sweep > 0.0 && side < 0.0) angle += 2 * pi;
  if (c.sweep < 0.0 && side > 0.0) angle -= 2 * pi;
  return angle;
}

int winding_number(const Loop& loop, const Vector2d& x) {
  double angle = 0.0;
  for (const Curve& c : loop) angle += seen_angle(c, x);
  return static_cast<int>(std::lround(angle / (2 * pi)));
}

bool contains(const Outline& outline, const Vector2d& x) {
  int inside = 0;
  for (const Loop& loop : outline.loops) inside += std::abs(winding_number(loop, x)) % 2;
  return inside % 2 == 1;
}

Loop circle(const Vector2d& centre, double radius) { return arc(centre, radius, 0.0, 2 * pi); }

Loop polygon(const std::vector<Vector2d>& corners) {
  Loop loop;
  for (std::size_t i = 0; i < corners.size(); ++i)
    loop.push_back(line(corners[i], corners[(i + 1) % corners.size()]));
  return loop;
}

std::vector<Loop> annular_sector(double r_inner, double r_outer, double from, double to) {
  const Vector2d axis = Vector2d::Zero();
  if (to - from > 2 * pi - 1e-9) {
    std::vector<Loop> loops{arc(axis, r_outer, from, from + 2 * pi)};
    if (r_inner > 0.0) loops.push_back(arc(axis, r_inner, from, from + 2 * pi));
    return loops;
  }
  Loop loop = arc(axis, r_outer, from, to);
  loop.push_back(line(polar(r_outer, to), polar(r_inner, to)));
  if (r_inner > 0.0)
    for (const Curve& c : arc(axis, r_inner, to, from)) loop.push_back(c);
  loop.push_back(line(polar(r_inner, from), polar(r_outer, from)));
  return {loop};
}

Loop rectangle(const Vector2d& centre, double thickness, double width, double angle) {
  const double t = thickness / 2, w = width / 2;
  std::vector<Vector2d> corners{{-t, -w}, {t, -w}, {t, w}, {-t, w}};
  for (Vector2d& x : corners) x = centre + turned(x, angle);
  return polygon(corners);
}

Outline turned(const Outline& outline, double angle) {
  Outline result = outline;
  for (Loop& loop : result.loops)
    for (Curve& c : loop) {
      c.from = turned(c.from, angle);
      c.to = turned(c.to, angle);
      c.centre = turned(c.centre, angle);
    }
  return result;
}

}  // namespace lodegear
