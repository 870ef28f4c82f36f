// mesh/outline.h — closed outlines of straight lines and circular arcs, and what lies inside them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "mesh/member_mesh.h"

namespace lodegear {

/// A straight line, or an arc of at most a quarter circle. Lengths in m.
struct Curve {
  Eigen::Vector2d from = Eigen::Vector2d::Zero();
  Eigen::Vector2d to = Eigen::Vector2d::Zero();
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  double radius = 0.0;  ///< 0 = straight
  double sweep = 0.0;   ///< rad, signed, counter-clockwise positive

  bool is_arc() const { return radius > 0.0; }
  bool operator==(const Curve&) const = default;
};

using Loop = std::vector<Curve>;

/// A plane figure with one label. A point lies inside if it lies inside an odd number of loops.
struct Outline {
  std::vector<Loop> loops;
  MeshRegion label;
  bool operator==(const Outline&) const = default;
};

double cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b);
/// Point of polar coordinates (r, angle).
Eigen::Vector2d polar(double r, double angle);
/// x turned about the origin.
Eigen::Vector2d turned(const Eigen::Vector2d& x, double angle);

Curve line(const Eigen::Vector2d& from, const Eigen::Vector2d& to);
/// Arc about `centre` from angle a to angle b (signed), in equal pieces of at most 90°.
std::vector<Curve> arc(const Eigen::Vector2d& centre, double radius, double a, double b);

double length(const Curve& c);
/// Point at the fraction t of the length, the ends exactly.
Eigen::Vector2d point_at(const Curve& c, double t);
/// Direction of travel at the start, rad.
double start_direction(const Curve& c);
/// Area swept from the origin by travelling the curve; the sum over a loop is its area.
double swept_area(const Curve& c);
double signed_area(const Loop& loop);
/// Times the loop runs around x, counter-clockwise positive. x must not lie on the loop.
int winding_number(const Loop& loop, const Eigen::Vector2d& x);
bool contains(const Outline& outline, const Eigen::Vector2d& x);

Loop circle(const Eigen::Vector2d& centre, double radius);
Loop polygon(const std::vector<Eigen::Vector2d>& corners);
/// Annular sector between two radii and two angles (rad); r_inner = 0 gives a wedge with its tip on
/// the axis, a span of 2π an annulus or a disc.
std::vector<Loop> annular_sector(double r_inner, double r_outer, double from, double to);
/// Rectangle about `centre`, its x-extent `thickness` turned by `angle`.
Loop rectangle(const Eigen::Vector2d& centre, double thickness, double width, double angle);

/// The outline turned about the origin.
Outline turned(const Outline& outline, double angle);

}  // namespace lodegear
