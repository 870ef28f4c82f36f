// mesh/shapes/sector_pole.cpp — drawing sector pole pieces.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/sector_pole.h"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

/// Rounding of radius `rho` (> 0) whose centre has the distance `centre_radius` from the axis and
/// rho from the side, on the side of the piece.
static std::optional<RoundedCorner> rounding(const SectorPole& pole, const Modulator& m, double rho,
                                             double end_radius, double centre_radius) {
  const Vector2d a = polar(m.inner_radius, pole.span_inner / 2);
  const Vector2d b = polar(m.outer_radius, pole.span_outer / 2);
  const Vector2d u = (b - a).normalized(), into(u.y(), -u.x());
  const double along = u.dot(a), off = into.dot(a) + rho;  // centre = s u + off into
  const double square = centre_radius * centre_radius - off * off;
  if (square <= 0.0) return std::nullopt;
  const double s = std::sqrt(square);
  if (s < along || s > along + (b - a).norm()) return std::nullopt;
  const Vector2d centre = s * u + off * into;
  return RoundedCorner{centre, centre - rho * into, end_radius / centre_radius * centre};
}

std::optional<RoundedCorner> inner_corner(const SectorPole& pole, const Modulator& m) {
  const Vector2d sharp = polar(m.inner_radius, pole.span_inner / 2);
  if (pole.corner_inner <= 0.0) return RoundedCorner{sharp, sharp, sharp};
  return rounding(pole, m, pole.corner_inner, m.inner_radius, m.inner_radius + pole.corner_inner);
}

std::optional<RoundedCorner> outer_corner(const SectorPole& pole, const Modulator& m) {
  const Vector2d sharp = polar(m.outer_radius, pole.span_outer / 2);
  if (pole.corner_outer <= 0.0) return RoundedCorner{sharp, sharp, sharp};
  return rounding(pole, m, pole.corner_outer, m.outer_radius, m.outer_radius - pole.corner_outer);
}

static double angle_of(const Vector2d& x) { return std::atan2(x.y(), x.x()); }
static Vector2d mirrored(const Vector2d& x) { return {x.x(), -x.y()}; }

/// Arc of a rounding from one point to another, turning by less than half a turn.
static void append_rounding(Loop& loop, const Vector2d& centre, const Vector2d& from,
                            const Vector2d& to) {
  const Vector2d a = from - centre, b = to - centre;
  if (a.norm() == 0.0) return;
  const double start = angle_of(a), sweep = std::atan2(cross(a, b), a.dot(b));
  for (const Curve& c : arc(centre, a.norm(), start, start + sweep)) loop.push_back(c);
}

/// The piece on +x, counter-clockwise from its lower outer corner.
static Loop piece(const RoundedCorner& in, const RoundedCorner& out) {
  const Vector2d axis = Vector2d::Zero();
  const double outer = angle_of(out.on_circle), inner = angle_of(in.on_circle);
  Loop loop = arc(axis, out.on_circle.norm(), -outer, outer);
  append_rounding(loop, out.centre, out.on_circle, out.on_side);
  loop.push_back(line(out.on_side, in.on_side));
  append_rounding(loop, in.centre, in.on_side, in.on_circle);
  for (const Curve& c : arc(axis, in.on_circle.norm(), inner, -inner)) loop.push_back(c);
  append_rounding(loop, mirrored(in.centre), mirrored(in.on_circle), mirrored(in.on_side));
  loop.push_back(line(mirrored(in.on_side), mirrored(out.on_side)));
  append_rounding(loop, mirrored(out.centre), mirrored(out.on_side), mirrored(out.on_circle));
  return loop;
}

std::vector<Outline> outlines(const SectorPole& pole, const Modulator& modulator, int index) {
  const auto in = inner_corner(pole, modulator), out = outer_corner(pole, modulator);
  if (!in || !out) throw std::runtime_error("pole piece: its corners cannot be rounded so far");
  const double angle = 2 * pi * index / modulator.pole_pieces;
  std::vector<Outline> drawn{{{piece(*in, *out)}, pole_piece_label(modulator, index)}};
  if (pole.hole)
    drawn.push_back(
        {{circle(Vector2d(pole.hole->centre_radius, 0.0), pole.hole->diameter / 2)}, air_label()});
  for (Outline& o : drawn) o = turned(o, angle);
  return drawn;
}

RadialExtent radial_extent(const SectorPole&, const Modulator& modulator) {
  return {modulator.inner_radius, modulator.outer_radius};
}

}  // namespace lodegear
