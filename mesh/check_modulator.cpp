// mesh/check_modulator.cpp — whether the pole pieces can be drawn.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "materials/words.h"
#include "mesh/check_parts.h"
#include "mesh/crossings.h"
#include "mesh/gear_keys.h"
#include "mesh/shapes/bridge.h"
#include "mesh/shapes/sector_pole.h"

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

namespace {

constexpr int most_pole_pieces = 2000;

bool check_span(const Modulator& m, double span, const char* key, double radius,
                Complaints& complaints) {
  const double pitch = 2 * pi / m.pole_pieces;
  if (!complaints.require(span > 0.0 && std::isfinite(span), key,
                          "is " + deg_text(span) + "; it must be more than nothing."))
    return false;
  return complaints.require((pitch - span) * radius >= thinnest_slit && span < pi, key,
                            "is " + deg_text(span) + ", but " + std::to_string(m.pole_pieces) +
                                " pole pieces have " + deg_text(pitch) +
                                " each, slot included (and none may span half a turn).");
}

bool check_sides(const SectorPole& pole, const Modulator& m, Complaints& complaints) {
  const Vector2d a = polar(m.inner_radius, pole.span_inner / 2);
  const Vector2d b = polar(m.outer_radius, pole.span_outer / 2);
  return complaints.require((b - a).dot(a) > 0.0, GearKeys::span_outer,
                            "is " + deg_text(pole.span_outer) + " and the span at the inner " +
                                "radius " + deg_text(pole.span_inner) +
                                ": straight sides between them would cut into the gap.");
}

/// What a rounding leaves of the end it rounds: half the angle of the arc, rad.
bool check_corner(const std::optional<RoundedCorner>& corner, double radius, const char* key,
                  Complaints& complaints) {
  const bool fits = corner && std::atan2(corner->on_circle.y(), corner->on_circle.x()) >= 0.0;
  return complaints.require(radius >= 0.0, key, "is " + mm_text(radius) + "; give 0 for sharp.") &&
         complaints.require(
             fits, key,
             "is " + mm_text(radius) + ", more than the pole piece has room for; give less.");
}

bool check_corners(const SectorPole& pole, const Modulator& m, Complaints& complaints) {
  const auto in = inner_corner(pole, m), out = outer_corner(pole, m);
  const bool inner = check_corner(in, pole.corner_inner, GearKeys::corner_inner, complaints);
  const bool outer = check_corner(out, pole.corner_outer, GearKeys::corner_outer, complaints);
  if (!inner || !outer) return false;
  const Vector2d side =
      polar(m.outer_radius, pole.span_outer / 2) - polar(m.inner_radius, pole.span_inner / 2);
  return complaints.require(side.dot(out->on_side - in->on_side) >= 0.0, GearKeys::corner_outer,
                            "is " + mm_text(pole.corner_outer) + " and the inner one " +
                                mm_text(pole.corner_inner) +
                                ": together more than the sides of the pole piece are long.");
}

bool check_hole(const SectorPole& pole, const Modulator& m, Complaints& complaints) {
  if (!pole.hole) return true;
  const double radius = pole.hole->diameter / 2;
  if (!complaints.require(radius > 0.0, GearKeys::hole_diameter,
                          "is " + mm_text(2 * radius) + "; it must be more than nothing."))
    return false;
  SectorPole solid = pole;
  solid.hole.reset();
  const Outline piece = outlines(solid, m, 0).front();
  const Vector2d centre(pole.hole->centre_radius, 0.0);
  double wall = std::numeric_limits<double>::max();
  for (const Curve& c : piece.loops.front())
    if (length(c) > 0.0) wall = std::min(wall, nearest_point(c, centre).distance - radius);
  const bool inside = contains(piece, centre);
  return complaints.require(
      inside && wall >= thinnest_slit, GearKeys::hole_diameter,
      "is " + mm_text(2 * radius) + " with its centre at " + mm_text(pole.hole->centre_radius) +
          (inside ? "; only " + mm_text(2 * (wall + radius)) + " fits inside the pole piece there."
                  : ", which is outside the pole piece."));
}

bool check_shape(const SectorPole& pole, const Modulator& m, Complaints& complaints) {
  const bool inner =
      check_span(m, pole.span_inner, GearKeys::span_inner, m.inner_radius, complaints);
  const bool outer =
      check_span(m, pole.span_outer, GearKeys::span_outer, m.outer_radius, complaints);
  return inner && outer && check_sides(pole, m, complaints) && check_corners(pole, m, complaints) &&
         check_hole(pole, m, complaints);
}

bool check_shape(const RoundBar& bar, const Modulator& m, Complaints& complaints) {
  if (!complaints.require(bar.diameter > 0.0 && std::isfinite(bar.diameter), GearKeys::bar_diameter,
                          "is " + mm_text(bar.diameter) + "; it must be more than nothing."))
    return false;
  const double in = bar.centre_radius - bar.diameter / 2;
  const double out = bar.centre_radius + bar.diameter / 2;
  if (!complaints.require(
          in >= m.inner_radius - thinnest_slit && out <= m.outer_radius + thinnest_slit,
          GearKeys::bar_centre_radius,
          "is " + mm_text(bar.centre_radius) + ": bars of " + mm_text(bar.diameter) +
              " then reach from " + mm_text(in) + " to " + mm_text(out) +
              ", out of the band from " + mm_text(m.inner_radius) + " to " +
              mm_text(m.outer_radius) + "."))
    return false;
  const double room = m.pole_pieces == 1 ? 2 * bar.centre_radius
                                         : 2 * bar.centre_radius * std::sin(pi / m.pole_pieces);
  return complaints.require(room - bar.diameter >= thinnest_slit, GearKeys::bar_diameter,
                            "is " + mm_text(bar.diameter) + ", but " +
                                std::to_string(m.pole_pieces) + " bars at a centre radius of " +
                                mm_text(bar.centre_radius) + " have " + mm_text(room) + " each.");
}

bool check_bridge(const Modulator& m, Complaints& complaints) {
  if (!m.bridge) return true;
  const double height = m.outer_radius - m.inner_radius;
  if (!complaints.require(
          m.bridge->thickness >= thinnest_slit, GearKeys::bridge_thickness,
          "is " + mm_text(m.bridge->thickness) + "; it must be more than nothing.") ||
      !complaints.require(height - m.bridge->thickness >= thinnest_slit, GearKeys::bridge_thickness,
                          "is " + mm_text(m.bridge->thickness) + ", but the pole pieces are only " +
                              mm_text(height) + " high."))
    return false;
  const auto* bar = std::get_if<RoundBar>(&m.shape);
  if (!bar) return true;
  const RadialExtent at = bridge_extent(m);
  const bool touches = at.inner < bar->centre_radius + bar->diameter / 2 - thinnest_slit &&
                       at.outer > bar->centre_radius - bar->diameter / 2 + thinnest_slit;
  return complaints.require(touches, GearKeys::bridge_thickness,
                            "is " + mm_text(m.bridge->thickness) + ": a bridge from " +
                                mm_text(at.inner) + " to " + mm_text(at.outer) +
                                " does not reach the bars.");
}

}  // namespace

bool check_modulator(const Modulator& m, Complaints& complaints) {
  if (!complaints.require(m.pole_pieces >= 1 && m.pole_pieces <= most_pole_pieces,
                          GearKeys::pole_pieces,
                          "is " + std::to_string(m.pole_pieces) + "; give 1 to " +
                              std::to_string(most_pole_pieces) + ".") ||
      !complaints.require(m.inner_radius > 0.0 && std::isfinite(m.inner_radius),
                          GearKeys::pole_inner_radius,
                          "is " + mm_text(m.inner_radius) + "; it must be more than nothing.") ||
      !complaints.require(
          m.outer_radius - m.inner_radius >= thinnest_slit && std::isfinite(m.outer_radius),
          GearKeys::pole_outer_radius,
          "is " + mm_text(m.outer_radius) + ", no more than the inner radius " +
              mm_text(m.inner_radius) + "."))
    return false;
  complaints.require(m.stacking_factor > 0.0 && m.stacking_factor <= 1.0, GearKeys::stacking_factor,
                     "is " + rounded_text(m.stacking_factor, 3) +
                         "; steel fills some part of the stack, at most all of it (1).");
  const bool shape =
      std::visit([&](const auto& pole) { return check_shape(pole, m, complaints); }, m.shape);
  return check_bridge(m, complaints) && shape;
}

std::string surface_key(const Gear& gear, Member member, bool outer) {
  if (member == Member::modulator) {
    if (std::holds_alternative<RoundBar>(gear.modulator->shape)) return GearKeys::bar_diameter;
    return outer ? GearKeys::pole_outer_radius : GearKeys::pole_inner_radius;
  }
  const MagnetRotor& rotor = member == Member::sun ? *gear.sun : *gear.ring;
  const RadialExtent magnets = body_extent(rotor);
  if (rotor.iron && outer && rotor.iron->outer_radius > magnets.outer)
    return iron_key(member, "outer");
  if (rotor.iron && !outer && rotor.iron->inner_radius < magnets.inner)
    return iron_key(member, "inner");
  if (std::holds_alternative<BlockMagnets>(rotor.shape))
    return rotor_key(member, GearKeys::centre_radius);
  return rotor_key(member, outer ? GearKeys::outer_radius : GearKeys::inner_radius);
}

}  // namespace lodegear
