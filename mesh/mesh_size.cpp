// mesh/mesh_size.cpp — sources of fineness and the field they make.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mesh_size.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <set>

#include "mesh/crossings.h"
#include "mesh/pieces.h"
#include "mesh/sides.h"

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

SizeField::SizeField(const UnitDrawing& unit, const Arrangement& drawing, double fineness,
                     const SizeRules& rules)
    : rules_(rules), fineness_(fineness) {
  // Triangles whose neighbours are more than twice as long are badly shaped.
  constexpr double most_growth = 0.9;
  for (double* growth : {&rules_.growth_from_circles, &rules_.growth_from_details})
    *growth = std::min(*growth / fineness, most_growth);
  longest_per_radius_ =
      std::min(rules.part_of_pole_pitch * 2 * pi / unit.n_poles, rules.longest_arc) / fineness;
  longest_at_axis_ = 0.1 * unit.limits.outer.radius / fineness;
  add_end_circles(unit);
  add_details(unit, drawing);
  add_corners(unit, drawing);
}

void SizeField::add_end_circles(const UnitDrawing& unit) {
  for (const EndCircle& c : {unit.limits.inner, unit.limits.outer})
    if (c.radius > 0.0)
      circles_.push_back({c.radius, 2 * pi * c.radius / c.n_edges, rules_.growth_from_circles});
}

/// Adds the source and its copies in the neighbouring sectors, so that the field is the same on
/// both sides of a sector.
void SizeField::add(const SizeSource& source, const UnitDrawing& unit) {
  details_.push_back(source);
  if (unit.n_sectors == 1) return;
  for (double angle : {-unit.angle, unit.angle}) {
    SizeSource copy = source;
    copy.place.from = turned(source.place.from, angle);
    copy.place.to = turned(source.place.to, angle);
    copy.place.centre = turned(source.place.centre, angle);
    details_.push_back(copy);
  }
}

void SizeField::add_details(const UnitDrawing& unit, const Arrangement& drawing) {
  const auto is_bridge = [&drawing](int f) {
    return f >= 0 && drawing.faces[static_cast<std::size_t>(f)].label &&
           drawing.faces[static_cast<std::size_t>(f)].label->part == "bridge";
  };
  for (const ArrangementEdge& e : drawing.edges) {
    if (!e.curve.is_arc()) continue;
    if (e.curve.centre.norm() > 0.0)
      add({e.curve, e.curve.radius / rules_.edges_per_radian / fineness_,
           rules_.growth_from_details},
          unit);
    if (is_bridge(e.left) || is_bridge(e.right))
      add({e.curve, unit.bridge_thickness / rules_.layers_in_bridge / fineness_,
           rules_.growth_from_details},
          unit);
  }
}

void SizeField::add_corners(const UnitDrawing& unit, const Arrangement& drawing) {
  for (const Corner& corner : corners(unit, drawing)) {
    const Vector2d& x = drawing.points[static_cast<std::size_t>(corner.point)];
    const double finer = corner.kind == Corner::Kind::steel  ? rules_.steel_corner
                         : corner.kind == Corner::Kind::cusp ? rules_.cusp
                                                             : rules_.magnet_corner;
    add({line(x, x), size_without_details(x) / finer, rules_.growth_from_details}, unit);
  }
}

double SizeField::size_without_details(const Vector2d& x) const {
  const double r = x.norm();
  double size = std::max(longest_per_radius_ * r, longest_at_axis_);
  for (const RadialSource& c : circles_)
    size = std::min(size, c.size + c.growth * std::abs(r - c.radius));
  return size;
}

double SizeField::at(const Vector2d& x) const {
  double size = size_without_details(x);
  for (const SizeSource& s : details_) {
    const double distance = s.place.is_arc() || s.place.from != s.place.to
                                ? nearest_point(s.place, x).distance
                                : (x - s.place.from).norm();
    size = std::min(size, s.size + s.growth * distance);
  }
  return size;
}

namespace {

/// Angle inside the face between two consecutive curves of its loop, rad in (0, 2π).
double inner_angle(const Curve& arriving, const Curve& leaving) {
  Curve back = arriving;
  std::swap(back.from, back.to);
  back.sweep = -arriving.sweep;
  const double angle = std::fmod(start_direction(back) - start_direction(leaving), 2 * pi);
  return angle <= 1e-9 ? angle + 2 * pi : angle;
}

/// Angles that steel fills at each point, points at which a magnet has a corner, and cusps.
struct AnglesAtPoints {
  std::map<int, double> steel;
  std::set<int> magnet_corners;
  std::set<int> cusps;
};

constexpr double smallest_angle = 0.02;  // rad; a face that ends narrower is a cusp
constexpr double smallest_bend = 0.2;    // rad; a flatter corner has no singular field to speak of

AnglesAtPoints angles_at_points(const Arrangement& drawing) {
  AnglesAtPoints angles;
  for (const ArrangementFace& face : drawing.faces) {
    if (!face.label) continue;
    for (const auto& loop : face.loops) {
      const Loop curves = loop_curves(drawing, loop);
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const std::size_t before = (i + loop.size() - 1) % loop.size();
        const ArrangementEdge& e = drawing.edges[static_cast<std::size_t>(loop[i].edge)];
        const int point = loop[i].forward ? e.from : e.to;
        const double angle = inner_angle(curves[before], curves[i]);
        if (angle < smallest_angle || angle > 2 * pi - smallest_angle) {
          angles.cusps.insert(point);  // round-off decides between nothing and a full turn
          continue;
        }
        if (face.label->kind == RegionKind::steel) angles.steel[point] += angle;
        if (face.label->kind == RegionKind::magnet && std::abs(angle - pi) > smallest_bend)
          angles.magnet_corners.insert(point);
      }
    }
  }
  return angles;
}

}  // namespace

std::vector<Corner> corners(const UnitDrawing& unit, const Arrangement& drawing) {
  AnglesAtPoints angles = angles_at_points(drawing);
  for (const SidePair& pair : side_points(unit, drawing)) {
    const double both = angles.steel[pair.lower] + angles.steel[pair.upper];
    angles.steel[pair.lower] = angles.steel[pair.upper] = both;
  }
  std::map<int, Corner::Kind> found;
  for (int point : angles.magnet_corners) found[point] = Corner::Kind::magnet;
  for (const auto& [point, angle] : angles.steel) {
    const bool on_axis =
        drawing.points[static_cast<std::size_t>(point)].norm() < 1e-6 * unit.limits.outer.radius;
    const bool filled = angle > 2 * pi - smallest_bend, none = angle < smallest_bend;
    if (!on_axis && !filled && !none && std::abs(angle - pi) > smallest_bend)
      found[point] = Corner::Kind::steel;
  }
  for (int point : angles.cusps) found[point] = Corner::Kind::cusp;
  std::vector<Corner> list;
  for (const auto& [point, kind] : found) list.push_back({point, kind});
  return list;
}

}  // namespace lodegear
