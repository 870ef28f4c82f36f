// mesh/unit_drawing.cpp — laying the sides and collecting the outlines of one sector.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/unit_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/magnet_patterns.h"
#include "mesh/shapes/bridge.h"
#include "mesh/shapes/iron.h"
#include "mesh/shapes/sleeve.h"

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

namespace {

double centre_angle(const Gear& gear, Member member, int index) {
  if (member == Member::modulator) return 2 * pi * index / gear.modulator->pole_pieces;
  return magnet_centre_angle(rotor_of(gear, member), index);
}

std::vector<Outline> bodies(const Gear& gear, Member member, int index) {
  return member == Member::modulator ? body_outlines(*gear.modulator, index)
                                     : body_outlines(rotor_of(gear, member), index);
}

bool repeats_after(const MagnetRotor& rotor, int step) {
  const int n = n_magnets(rotor);
  const auto apart = [](double a, double b, double period) {
    return std::abs(std::remainder(a - b, period));
  };
  for (int i = 0; i < n; ++i) {
    const int j = (i + step) % n;
    const double turn = 2 * pi * step / n;
    if (apart(magnet_centre_angle(rotor, j), magnet_centre_angle(rotor, i) + turn, 2 * pi) > 1e-9 ||
        apart(body_angle(rotor, j), body_angle(rotor, i), pi) > 1e-9)
      return false;
  }
  return true;
}

/// Angles between which a body lies, seen from its own centre line.
struct AngularExtent {
  double low = 0.0;
  double high = 0.0;
};
AngularExtent angular_extent(const Gear& gear, Member member, int index) {
  const double centre = centre_angle(gear, member, index);
  AngularExtent extent;
  for (const Outline& o : bodies(gear, member, index)) {
    if (o.label.part != "magnet" && o.label.part != "pole piece") continue;
    for (const Loop& loop : o.loops)
      for (const Curve& c : loop)
        for (double t : {0.0, 0.25, 0.5, 0.75}) {
          const Vector2d x = turned(point_at(c, t), -centre);
          extent.low = std::min(extent.low, std::atan2(x.y(), x.x()));
          extent.high = std::max(extent.high, std::atan2(x.y(), x.x()));
        }
  }
  return extent;
}

/// A side between two bodies and the angle left clear there, rad.
struct Side {
  double angle = 0.0;
  double clear = 0.0;
};
Side side_below(const Gear& gear, Member member, int index) {
  const int n = n_bodies(gear, member), before = (index + n - 1) % n;
  const double a = centre_angle(gear, member, index);
  double b = centre_angle(gear, member, before);
  while (b >= a) b -= 2 * pi;
  const double low = a + angular_extent(gear, member, index).low;
  const double high = b + angular_extent(gear, member, before).high;
  return {(low + high) / 2, low - high};
}

/// The body that comes first above the lower side: the one with most clear space below it.
int first_body(const Gear& gear, Member member, int per_sector) {
  int first = 0;
  double most = -pi;
  for (int i = 0; i < per_sector; ++i) {
    const double clear = side_below(gear, member, i).clear;
    if (clear < most + 1e-9) continue;
    first = i;
    most = clear;
  }
  return first;
}

void append(std::vector<Outline>& to, const std::vector<Outline>& more) {
  to.insert(to.end(), more.begin(), more.end());
}

std::vector<Outline> background(const Gear& gear, Member member, const UnitDrawing& unit) {
  std::vector<Outline> drawn;
  const double from = unit.start_angle, to = unit.start_angle + unit.angle;
  if (member == Member::modulator) {
    if (gear.modulator->bridge) append(drawn, bridge_outlines(*gear.modulator, from, to));
  } else if (const auto& iron = rotor_of(gear, member).iron) {
    append(drawn, iron_outlines(*iron, member, from, to));
  }
  for (const Sleeve& s : unit.limits.sleeves) append(drawn, sleeve_outlines(s, from, to));
  return drawn;
}

}  // namespace

int bodies_per_sector(const Gear& gear, Member member) {
  if (member == Member::modulator) return 1;
  const MagnetRotor& rotor = rotor_of(gear, member);
  const int n = n_magnets(rotor);
  for (int step = 1; step < n; ++step)
    if (n % step == 0 && repeats_after(rotor, step)) return step;
  return n;
}

static UnitDrawing drawing_of(const Gear& gear, const MeshPlan& plan, Member member,
                              int bodies_a_sector) {
  UnitDrawing unit;
  unit.member = member;
  unit.limits = member_limits(gear, plan, member);
  unit.n_bodies = n_bodies(gear, member);
  unit.n_poles = n_poles(gear, member);
  if (member == Member::modulator && gear.modulator->bridge)
    unit.bridge_thickness = gear.modulator->bridge->thickness;
  unit.bodies_per_sector = bodies_a_sector;
  unit.n_sectors = unit.n_bodies / unit.bodies_per_sector;
  unit.angle = 2 * pi / unit.n_sectors;
  const int first = first_body(gear, member, unit.bodies_per_sector);
  unit.start_angle = side_below(gear, member, first).angle;
  const double end = unit.start_angle + unit.angle;
  unit.domain = {
      annular_sector(unit.limits.inner.radius, unit.limits.outer.radius, unit.start_angle, end),
      air_label()};
  unit.outlines = background(gear, member, unit);
  const int beside = unit.n_sectors > 1 ? 1 : 0;
  for (int i = -beside; i < unit.bodies_per_sector + beside; ++i)
    append(unit.outlines, bodies(gear, member, (first + i + unit.n_bodies) % unit.n_bodies));
  return unit;
}

UnitDrawing unit_drawing(const Gear& gear, const MeshPlan& plan, Member member) {
  return drawing_of(gear, plan, member, bodies_per_sector(gear, member));
}

UnitDrawing whole_drawing(const Gear& gear, const MeshPlan& plan, Member member) {
  return drawing_of(gear, plan, member, n_bodies(gear, member));
}

}  // namespace lodegear
