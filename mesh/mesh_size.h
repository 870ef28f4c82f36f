// mesh/mesh_size.h — how long the edges of triangles shall be, point by point.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/arrangement.h"
#include "mesh/unit_drawing.h"

namespace lodegear {

/// The constants of the size field at fineness 1. Lengths grow from every source by `growth` times
/// the distance; a growth g makes neighbouring edges stand as 1 + g. A finer mesh has all lengths
/// and so the growths divided by its fineness.
struct SizeRules {
  double growth_from_circles = 0.35;  ///< gap, bore and outside circles
  double growth_from_details = 0.5;   ///< corners, holes, bridges
  double steel_corner = 12.0;  ///< local length over that at a corner: B grows there as r^(−1/3)
  double cusp = 30.0;          ///< where a line and an arc, or two arcs, touch
  double magnet_corner = 2.0;  ///< B grows as ln r only
  double edges_per_radian = 2.6;  ///< along roundings and holes: 16 around a hole
  double layers_in_bridge = 2.0;
  double longest_arc = 0.26;        ///< rad, seen from the axis
  double part_of_pole_pitch = 0.3;  ///< nowhere longer than this part of the pole pitch there
};

/// A place near which edges are short.
struct SizeSource {
  Curve place;  ///< from == to and no radius: a point
  double size = 0.0;
  double growth = 0.0;
};

/// The smallest length any source asks for.
class SizeField {
 public:
  SizeField(const UnitDrawing& unit, const Arrangement& drawing, double fineness,
            const SizeRules& rules = {});
  double at(const Eigen::Vector2d& x) const;

 private:
  struct RadialSource {
    double radius, size, growth;
  };
  double size_without_details(const Eigen::Vector2d& x) const;
  void add_end_circles(const UnitDrawing& unit);
  void add_details(const UnitDrawing& unit, const Arrangement& drawing);
  void add_corners(const UnitDrawing& unit, const Arrangement& drawing);
  void add(const SizeSource& source, const UnitDrawing& unit);

  SizeRules rules_;
  double fineness_ = 1.0;
  double longest_per_radius_ = 0.0;
  double longest_at_axis_ = 0.0;
  std::vector<RadialSource> circles_;
  std::vector<SizeSource> details_;
};

/// Points of the drawing where steel or a magnet has a corner, or a face ends between two curves
/// that touch.
struct Corner {
  enum class Kind { magnet, steel, cusp };
  int point = 0;
  Kind kind = Kind::magnet;
};
std::vector<Corner> corners(const UnitDrawing& unit, const Arrangement& drawing);

}  // namespace lodegear
