// tools/drawings/carriers.cpp — pockets with clearance and relief in a ring.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/carriers.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "cases/units.h"
#include "materials/constants.h"
#include "materials/input_error.h"
#include "materials/words.h"
#include "mesh/magnet_patterns.h"
#include "mesh/member_limits.h"
#include "mesh/shapes/block_magnets.h"
#include "tools/drawings/kerf.h"
#include "tools/drawings/section_parts.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

constexpr double opened = 0.05e-3;  // a pocket reaches that far through the edge it opens
constexpr double rim = 3e-3;        // of a ring that no steel surrounds (judgement)

MeshRegion labelled(const char* part) { return {RegionKind::sleeve, part, part, -1}; }
MeshRegion plate_label(double plate) { return plate > 0.0 ? labelled("plate") : MeshRegion{}; }

/// A block in its pocket, seen along the radius through its centre.
struct Seen {
  bool square_on = true;  ///< two sides lie across the radius
  double half_depth = 0.0, half_width = 0.0;
};
Seen seen_along_radius(const BlockMagnets& b, double body) {
  const double c = std::abs(std::cos(body)), s = std::abs(std::sin(body));
  if (s < 1e-6) return {true, b.thickness / 2, b.width / 2};
  if (c < 1e-6) return {true, b.width / 2, b.thickness / 2};
  return {false, std::min(b.thickness / 2 / c, b.width / 2 / s), 0.0};
}

/// Radii between which the fingers stand.
struct Band {
  double inner = 0.0, outer = 0.0;
};
Band finger_band(const MagnetRotor& rotor, const BlockMagnets& b, Member member, Band plate) {
  Band band = plate;
  for (int i = 0; i < n_magnets(rotor); ++i) {
    const Seen seen = seen_along_radius(b, body_angle(rotor, i));
    const double near = b.centre_radius - seen.half_depth - b.clearance;
    const double far = b.centre_radius + seen.half_depth + b.clearance;
    const double corner = std::hypot(near, seen.half_width + b.clearance);
    const double inwards = seen.square_on ? corner + opened : near + b.clearance;
    const double outwards = far - (seen.square_on ? opened : b.clearance);
    const bool open_in = member == Member::ring || near < plate.inner + thinnest_wall;
    const bool open_out = member == Member::sun || far > plate.outer - thinnest_wall;
    if (open_in) band.inner = std::max(band.inner, inwards);
    if (open_out) band.outer = std::min(band.outer, outwards);
  }
  return band;
}

double least_between(const MagnetRotor& rotor, const BlockMagnets& b) {
  double least = std::numeric_limits<double>::max();
  const int n = n_magnets(rotor);
  for (int i = 0; i < n && n > 1; ++i)
    least = std::min(least, distance(polygon(block_corners(b, rotor, i, b.clearance)),
                                     polygon(block_corners(b, rotor, (i + 1) % n, b.clearance))));
  return least;
}

double farthest_pocket(const MagnetRotor& rotor, const BlockMagnets& b) {
  double far = 0.0;
  for (int i = 0; i < n_magnets(rotor); ++i)
    for (const Vector2d& x : block_corners(b, rotor, i, b.clearance)) far = std::max(far, x.norm());
  return far;
}

/// From steel or shaft to steel or rim; a rotor's gap side follows from its fingers.
Band plate_band(const Case& c, const MagnetRotor& rotor, Member member, double far) {
  const RadialExtent body = body_extent(rotor);
  if (member == Member::sun) {
    const double shaft = c.service.build.shaft_diameter / 2;
    return {rotor.iron ? rotor.iron->outer_radius : shaft, body.outer};
  }
  return {body.inner, rotor.iron ? rotor.iron->inner_radius : far + rim};
}

/// The pocket of a block and a circle through each corner, with its centre on the corner's
/// diagonal: a cutter or a nozzle cannot make the corner sharp.
void add_pocket(std::vector<Outline>& outlines, const std::vector<Vector2d>& corners, double relief,
                const Band& walls, const MeshRegion& floor) {
  outlines.push_back({{polygon(corners)}, floor});
  if (relief <= 0.0) return;
  const Vector2d middle = (corners[0] + corners[2]) / 2;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vector2d& x = corners[i];
    if (x.norm() < walls.inner || x.norm() > walls.outer) continue;  // lies open
    const Vector2d a = (corners[(i + 1) % 4] - x).normalized();
    const Vector2d b = (corners[(i + 3) % 4] - x).normalized();
    const Vector2d in = (a + b).normalized();
    const double room = 0.9 * in.dot(middle - x);
    outlines.push_back({{circle(x + std::min(relief, room) * in, std::min(relief, room))}, floor});
  }
}

Outline ring_outline(Band band, const MeshRegion& label) {
  return {annular_sector(band.inner, band.outer, 0.0, 2 * pi), label};
}

}  // namespace

std::optional<Carrier> rotor_carrier(const Case& c, Member member, const DrawOptions& options) {
  const MagnetRotor& rotor = rotor_of(c.gear, member);
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  if (!blocks && rotor.iron) return std::nullopt;
  const double far = blocks ? farthest_pocket(rotor, *blocks) : body_extent(rotor).outer;
  Band plate = plate_band(c, rotor, member, far);
  if (!blocks) {  // a plain cylinder under arcs, or around them
    const RadialExtent body = body_extent(rotor);
    (member == Member::sun ? plate.outer : plate.inner) =
        member == Member::sun ? body.inner : body.outer;
  }
  const Band stand = blocks ? finger_band(rotor, *blocks, member, plate) : plate;
  (member == Member::sun ? plate.outer : plate.inner) =
      member == Member::sun ? stand.outer : stand.inner;
  if (stand.outer - stand.inner < thinnest_wall) return std::nullopt;
  Carrier carrier;
  carrier.plate = blocks ? options.plate : 0.0;
  carrier.stack = rotor.active_length;
  carrier.domain = ring_outline(plate, plate_label(carrier.plate));
  carrier.outlines.push_back(ring_outline(stand, labelled("carrier")));
  if (blocks)
    for (int i = 0; i < n_magnets(rotor); ++i)
      add_pocket(carrier.outlines, block_corners(*blocks, rotor, i, blocks->clearance),
                 options.relief, stand, plate_label(carrier.plate));
  if (blocks) carrier.thinnest = least_between(rotor, *blocks);
  return carrier;
}

namespace {

/// What goes through the end rings at pole piece `index`, if anything does.
std::optional<WholeCircle> drilled(const Case& c, int index, const DrawOptions& options) {
  const Modulator& m = *c.gear.modulator;
  const double angle = 2 * pi * index / m.pole_pieces, rod = c.service.build.rod_diameter;
  if (const auto* bar = std::get_if<RoundBar>(&m.shape))
    return WholeCircle{polar(bar->centre_radius, angle), bar->diameter / 2 + options.fit};
  const auto& hole = std::get<SectorPole>(m.shape).hole;
  if (!hole) return std::nullopt;
  return WholeCircle{polar(hole->centre_radius, angle), (rod > 0.0 ? rod : hole->diameter) / 2};
}

/// Round bars need some ring around their holes.
Band end_ring_band(const Modulator& m, const DrawOptions& options) {
  const RadialExtent body = body_extent(m);
  const bool bars = std::holds_alternative<RoundBar>(m.shape);
  const double more = bars ? options.fit + 2 * thinnest_wall : 0.0;
  return {body.inner - more, body.outer + more};
}

}  // namespace

std::optional<Carrier> cage(const Case& c, const DrawOptions& options) {
  if (!c.gear.modulator || c.gear.modulator->bridge) return std::nullopt;
  const Modulator& m = *c.gear.modulator;
  const RadialExtent body = body_extent(m);
  Carrier carrier;
  carrier.plate = options.plate;
  carrier.stack = m.active_length;
  const Band band{body.inner, body.outer};
  carrier.domain = ring_outline(band, plate_label(carrier.plate));
  carrier.outlines.push_back(ring_outline(band, labelled("carrier")));
  FlatPart piece = laminations(c.gear).front();
  piece.holes.clear();
  const FlatPart pocket = options.fit > 0.0 ? grown(piece, options.fit, "--fit-mm") : piece;
  const double between = distance(piece.outline, turned(piece.outline, 2 * pi / m.pole_pieces));
  carrier.thinnest = between - 2 * options.fit;
  if (m.pole_pieces > 1 && carrier.thinnest <= 0.0)
    throw InputError({{{},
                       "--fit-mm",
                       "is too large: the pole pieces lie only " + rounded_text(to_mm(between), 3) +
                           " mm apart."}});
  for (int i = 0; i < m.pole_pieces; ++i)
    carrier.outlines.push_back(
        {{turned(pocket.outline, 2 * pi * i / m.pole_pieces)}, plate_label(carrier.plate)});
  if (std::holds_alternative<SectorPole>(m.shape))
    for (int i = 0; i < m.pole_pieces; ++i)
      if (const auto hole = drilled(c, i, options))
        carrier.outlines.push_back({{circle(hole->centre, hole->radius)}, {}});
  return carrier;
}

std::optional<FlatPart> end_ring(const Case& c, const DrawOptions& options) {
  if (!c.gear.modulator || !drilled(c, 0, options)) return std::nullopt;
  std::vector<Outline> holes;
  for (int i = 0; i < c.gear.modulator->pole_pieces; ++i) {
    const WholeCircle hole = *drilled(c, i, options);
    holes.push_back({{circle(hole.centre, hole.radius)}, {}});
  }
  const Outline ring =
      ring_outline(end_ring_band(*c.gear.modulator, options), labelled("end ring"));
  std::vector<FlatPart> parts = flat_parts(ring, holes);
  if (parts.size() != 1) return std::nullopt;  // the holes cut the ring in two
  return parts.front();
}

std::vector<FlatPart> fingers(const Carrier& carrier) {
  std::vector<FlatPart> parts = flat_parts(carrier.domain, carrier.outlines);
  std::erase_if(parts, [](const FlatPart& p) { return p.label.part != "carrier"; });
  return parts;
}

}  // namespace lodegear
