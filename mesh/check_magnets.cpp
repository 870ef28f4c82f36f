// mesh/check_magnets.cpp — whether the magnets and the steel of a rotor can be drawn.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "materials/words.h"
#include "mesh/check_parts.h"
#include "mesh/gear_keys.h"
#include "mesh/magnet_patterns.h"
#include "mesh/shapes/block_magnets.h"
#include "mesh/shapes/shape.h"

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

namespace {

constexpr int most_pole_pairs = 1000;  // beyond, a mesh of a member has millions of nodes
constexpr int most_magnets = 20000;

bool is_alternating(const MagnetRotor& rotor) {
  return std::holds_alternative<AlternatingRadial>(rotor.pattern) ||
         std::holds_alternative<AlternatingParallel>(rotor.pattern);
}

/// What every check of one rotor needs.
struct Subject {
  const MagnetRotor& rotor;
  Member member;
  Complaints& complaints;

  bool require(bool good, const char* key, const std::string& text) const {
    return complaints.require(good, rotor_key(member, key), text);
  }
};

// ---- patterns -----------------------------------------------------------------------------------

bool check_directions(const Subject& s, const DirectionList& list) {
  const bool finite = std::all_of(list.directions.begin(), list.directions.end(),
                                  [](double d) { return std::isfinite(d); });
  if (!s.require(!list.directions.empty() && finite, GearKeys::directions,
                 "is empty; give the direction of each magnet of a pole pair.") ||
      !s.require(list.magnets_per_pole_pair >= 1, GearKeys::magnets_per_pole_pair,
                 "is " + std::to_string(list.magnets_per_pole_pair) + "; at least 1 is needed."))
    return false;
  const int n = n_magnets(s.rotor), length = static_cast<int>(list.directions.size());
  return s.require(n % length == 0, GearKeys::directions,
                   "has " + std::to_string(length) + " entries, which do not go evenly into the " +
                       std::to_string(n) + " magnets around the rotor.");
}

bool check_pattern(const Subject& s) {
  if (const auto* h = std::get_if<SteppedHalbach>(&s.rotor.pattern))
    if (!s.require(h->segments_per_pole_pair >= 2, GearKeys::segments,
                   "is " + std::to_string(h->segments_per_pole_pair) +
                       "; a pole pair needs at least 2 segments."))
      return false;
  if (const auto* list = std::get_if<DirectionList>(&s.rotor.pattern))
    if (!check_directions(s, *list)) return false;
  const bool arcs = std::holds_alternative<ArcMagnets>(s.rotor.shape);
  if (std::holds_alternative<ContinuousHalbach>(s.rotor.pattern))
    return s.require(arcs, GearKeys::pattern,
                     "is a continuous Halbach ring, which only an unbroken ring of arcs can be.");
  if (std::holds_alternative<AlternatingRadial>(s.rotor.pattern))
    return s.require(!std::holds_alternative<BlockMagnets>(s.rotor.shape), GearKeys::pattern,
                     "is alternating radial, but a block is magnetised in one direction all over; "
                     "alternating parallel is what blocks can be.");
  return s.require(is_alternating(s.rotor) || !std::holds_alternative<SpokeMagnets>(s.rotor.shape),
                   GearKeys::pattern,
                   "cannot be chosen for spoke magnets: they point in turn along the circle.");
}

bool check_odd_magnets(const Subject& s) {
  bool good = true;
  const int n = n_magnets(s.rotor);
  for (std::size_t i = 0; i < s.rotor.odd_magnets.size(); ++i) {
    const OddMagnet& odd = s.rotor.odd_magnets[i];
    const std::string table = rotor_key(s.member, GearKeys::odd_magnet) + index_text(i);
    good &= s.complaints.require(odd.index >= 0 && odd.index < n, table + ".index",
                                 "is " + std::to_string(odd.index) + ", but the " +
                                     std::to_string(n) + " magnets of the " + name_of(s.member) +
                                     " are numbered from 0 to " + std::to_string(n - 1) + ".");
    good &= s.complaints.require(std::isfinite(odd.strength) && std::isfinite(odd.turned), table,
                                 "has a strength or an angle that is no number.");
  }
  return good;
}

// ---- shapes -------------------------------------------------------------------------------------

bool check_shape(const Subject& s, const ArcMagnets& arcs) {
  const std::string percent = rounded_text(arcs.coverage * 100, 3);
  if (!s.require(arcs.coverage > 0.0 && arcs.coverage <= 1.0, GearKeys::coverage,
                 "is " + percent + "; it must be above 0 and at most 100."))
    return false;
  if (std::holds_alternative<ContinuousHalbach>(s.rotor.pattern))
    return s.require(arcs.coverage == 1.0, GearKeys::coverage,
                     "is " + percent + ", but a continuous Halbach ring has no joints.");
  const double slit = (1.0 - arcs.coverage) * 2 * pi * s.rotor.inner_radius / n_magnets(s.rotor);
  return s.require(is_clear_or_touching(slit), GearKeys::coverage,
                   "is " + percent + ", which leaves slits thinner than 0.001 mm; give 100.");
}

bool check_shape(const Subject& s, const SpokeMagnets& spokes) {
  const double room = 2 * s.rotor.inner_radius * std::sin(pi / n_magnets(s.rotor));
  if (!s.require(spokes.width > 0.0, GearKeys::width,
                 "is " + mm_text(spokes.width) + "; it must be more than nothing."))
    return false;
  return s.require(room - spokes.width >= thinnest_slit, GearKeys::width,
                   "is " + mm_text(spokes.width) + ", but " + std::to_string(n_magnets(s.rotor)) +
                       " spokes have " + mm_text(room) + " each at the inner radius of " +
                       mm_text(s.rotor.inner_radius) +
                       ". Make them narrower or the radius larger.");
}

/// Largest distance between the shadows of two rectangles on the directions of their sides, m;
/// negative if they overlap.
double distance(const std::vector<Vector2d>& a, const std::vector<Vector2d>& b) {
  double most = -std::numeric_limits<double>::max();
  for (const auto* body : {&a, &b})
    for (std::size_t i : {0U, 1U}) {
      const Vector2d u = ((*body)[i + 1] - (*body)[i]).normalized();
      const auto shadow = [&u](const std::vector<Vector2d>& corners) {
        double low = u.dot(corners[0]), high = low;
        for (const Vector2d& x : corners) {
          low = std::min(low, u.dot(x));
          high = std::max(high, u.dot(x));
        }
        return std::pair(low, high);
      };
      const auto [a_low, a_high] = shadow(a);
      const auto [b_low, b_high] = shadow(b);
      most = std::max({most, b_low - a_high, a_low - b_high});
    }
  return most;
}

bool check_block_sizes(const Subject& s, const BlockMagnets& blocks) {
  bool good = true;
  const auto positive = [&](double x, const char* key) {
    good &= s.require(x > 0.0 && std::isfinite(x), key,
                      "is " + mm_text(x) + "; it must be more than nothing.");
  };
  positive(blocks.width, GearKeys::width);
  positive(blocks.thickness, GearKeys::thickness);
  positive(blocks.centre_radius, GearKeys::centre_radius);
  good &= s.require(blocks.clearance >= 0.0 && is_clear_or_touching(blocks.clearance),
                    GearKeys::clearance,
                    "is " + mm_text(blocks.clearance) + "; give 0 or at least 0.001 mm.");
  good &= s.require(blocks.blocks_per_pole >= 1, GearKeys::blocks_per_pole,
                    "is " + std::to_string(blocks.blocks_per_pole) + "; at least 1 is needed.");
  good &=
      s.require(blocks.blocks_per_pole <= 1 || is_alternating(s.rotor), GearKeys::blocks_per_pole,
                "is " + std::to_string(blocks.blocks_per_pole) +
                    ", but only alternating poles are made of several blocks.");
  good &= s.require(blocks.block_pitch >= 0.0, GearKeys::block_pitch,
                    "is " + deg_text(blocks.block_pitch) + "; it must be more than nothing.");
  return good;
}

bool check_neighbours(const Subject& s, const BlockMagnets& blocks) {
  const int n = n_magnets(s.rotor);
  if (n < 2) return true;
  double least = std::numeric_limits<double>::max();
  int first = 0;
  for (int i = 0; i < n; ++i) {
    const double d = distance(block_corners(blocks, s.rotor, i, blocks.clearance),
                              block_corners(blocks, s.rotor, (i + 1) % n, blocks.clearance));
    if (d < least - touching) first = i;
    least = std::min(least, d);
  }
  const bool narrow = blocks.block_pitch > 0.0 && blocks.blocks_per_pole > 1 &&
                      blocks.block_pitch < pi / s.rotor.pole_pairs / blocks.blocks_per_pole;
  const std::string with =
      blocks.clearance > 0.0 ? " with " + mm_text(blocks.clearance) + " of clearance on every side"
                             : "";
  return s.require(
      is_clear_or_touching(least), narrow ? GearKeys::block_pitch : GearKeys::width,
      "does not fit: blocks of " + mm_text(blocks.width) + " × " + mm_text(blocks.thickness) +
          with + " at a centre radius of " + mm_text(blocks.centre_radius) +
          (least < 0.0 ? " overlap by " + mm_text(-least) : " leave a slit of " + mm_text(least)) +
          " between magnets " + std::to_string(first) + " and " + std::to_string((first + 1) % n) +
          ".");
}

bool check_shape(const Subject& s, const BlockMagnets& blocks) {
  if (!check_block_sizes(s, blocks)) return false;
  const RadialExtent extent = radial_extent(blocks, s.rotor);
  bool good =
      s.require(extent.inner > 0.01 * extent.outer, GearKeys::centre_radius,
                "is " + mm_text(blocks.centre_radius) + ", so near that blocks of " +
                    mm_text(blocks.width) + " × " + mm_text(blocks.thickness) + " reach the axis.");
  good &= s.require(extent.outer <= s.rotor.outer_radius + thinnest_slit, GearKeys::centre_radius,
                    "puts the corners of the blocks at " + mm_text(extent.outer) +
                        ", beyond the outer radius " + mm_text(s.rotor.outer_radius) + ".");
  good &= s.require(extent.inner >= s.rotor.inner_radius - thinnest_slit, GearKeys::centre_radius,
                    "puts the inner face of the blocks at " + mm_text(extent.inner) +
                        ", within the inner radius " + mm_text(s.rotor.inner_radius) + ".");
  return good && check_neighbours(s, blocks);
}

bool check_band(const Subject& s) {
  const double in = s.rotor.inner_radius, out = s.rotor.outer_radius;
  return s.require(in > 0.0 && std::isfinite(in), GearKeys::inner_radius,
                   "is " + mm_text(in) + "; it must be more than nothing.") &&
         s.require(out - in >= thinnest_slit && std::isfinite(out), GearKeys::outer_radius,
                   "is " + mm_text(out) + ", no more than the inner radius " + mm_text(in) + ".");
}

// ---- steel --------------------------------------------------------------------------------------

/// Pockets may be cut into the steel, not through it.
bool check_pockets(const Subject& s, const BlockMagnets& blocks, const Iron& iron) {
  BlockMagnets pocket = blocks;
  pocket.thickness += 2 * blocks.clearance;
  pocket.width += 2 * blocks.clearance;
  const RadialExtent extent = radial_extent(pocket, s.rotor);
  const bool is_sun = s.member == Member::sun;
  const double wall = is_sun ? extent.inner - iron.inner_radius : iron.outer_radius - extent.outer;
  return s.complaints.require(wall >= thinnest_slit, iron_key(s.member, is_sun ? "inner" : "outer"),
                              "is " + mm_text(is_sun ? iron.inner_radius : iron.outer_radius) +
                                  ", but the blocks and their clearance reach to " +
                                  mm_text(is_sun ? extent.inner : extent.outer) +
                                  " and would break through the steel.");
}

bool check_iron(const Subject& s) {
  if (!s.rotor.iron) return true;
  const Iron& iron = *s.rotor.iron;
  const bool is_sun = s.member == Member::sun;
  const std::string in_key = iron_key(s.member, "inner"), out_key = iron_key(s.member, "outer");
  if (!s.complaints.require(iron.inner_radius >= 0.0 && (is_sun || iron.inner_radius > 0.0), in_key,
                            "is " + mm_text(iron.inner_radius) + "; it cannot be less.") ||
      !s.complaints.require(iron.outer_radius - iron.inner_radius >= thinnest_slit &&
                                std::isfinite(iron.outer_radius),
                            out_key,
                            "is " + mm_text(iron.outer_radius) +
                                ", no more than the inner radius " + mm_text(iron.inner_radius) +
                                "."))
    return false;
  if (const auto* blocks = std::get_if<BlockMagnets>(&s.rotor.shape))
    return check_pockets(s, *blocks, iron);
  const double room =
      is_sun ? s.rotor.inner_radius - iron.outer_radius : iron.inner_radius - s.rotor.outer_radius;
  const std::string magnets = is_sun ? "the magnets begin at " + mm_text(s.rotor.inner_radius)
                                     : "the magnets reach to " + mm_text(s.rotor.outer_radius);
  return s.complaints.require(
      is_clear_or_touching(room), is_sun ? out_key : in_key,
      "is " + mm_text(is_sun ? iron.outer_radius : iron.inner_radius) + ", but " + magnets +
          (room < 0.0 ? "; steel and magnets overlap." : "; let them touch."));
}

}  // namespace

bool check_rotor(const MagnetRotor& rotor, Member member, Complaints& complaints) {
  const Subject s{rotor, member, complaints};
  if (!complaints.require(rotor.pole_pairs >= 1 && rotor.pole_pairs <= most_pole_pairs,
                          pole_pairs_key(member),
                          "is " + std::to_string(rotor.pole_pairs) + "; give 1 to " +
                              std::to_string(most_pole_pairs) + "."))
    return false;
  if (!check_band(s) || !check_pattern(s)) return false;
  if (!s.require(n_magnets(rotor) <= most_magnets, GearKeys::pattern,
                 "makes " + std::to_string(n_magnets(rotor)) + " magnets; at most " +
                     std::to_string(most_magnets) + " can be meshed."))
    return false;
  const bool shape =
      std::visit([&](const auto& shape_) { return check_shape(s, shape_); }, rotor.shape);
  const bool odd = check_odd_magnets(s);
  const bool iron = shape && check_iron(s);
  return shape && odd && iron;
}

}  // namespace lodegear
