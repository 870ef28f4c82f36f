// cases/choosing/block_section.cpp — cross-sections of blocks from a stock.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <tuple>

#include "cases/block_fit.h"
#include "cases/choosing/layout.h"
#include "materials/constants.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr double clearance_mm = 0.1;
/// Poles filled to less are left out: the same torque comes from fewer poles.
constexpr double least_cover = 0.5;
/// Stacks of sun and ring that differ by more waste magnets.
constexpr double most_difference = 0.15;
/// Pairs of blocks that are computed for a row.
constexpr std::size_t pairs_by_torque = 3, pairs_by_material = 2;

/// A block of the stock with one of its sides along the axis.
struct Laid {
  std::size_t index = 0;
  BlockPlace place;
  int rows = 1;
  double length_mm = 0.0;  ///< of all rows
};

/// A block in a rotor.
struct Placed {
  Laid laid;
  double seat_mm = 0.0;  ///< as the case file has it
  double face_mm = 0.0;  ///< inner faces
  int per_pole = 0;
  double cover = 0.0;  ///< of the pole
  int magnets = 0;
};

std::vector<Laid> laid_blocks(const Wish& wish) {
  std::vector<Laid> all;
  for (std::size_t i = 0; i < wish.stock.size(); ++i) {
    const StockBlock& b = wish.stock[i];
    for (const auto& [width, axial] :
         {std::pair{b.width_mm, b.length_mm}, {b.length_mm, b.width_mm}}) {
      const int rows = static_cast<int>(std::floor(wish.length_mm / axial + 1e-9));
      if (rows >= 1) all.push_back({i, {width, b.thickness_mm, clearance_mm}, rows, rows * axial});
      if (b.width_mm == b.length_mm) break;
    }
  }
  return all;
}

Placed placed(const Laid& laid, int pole_pairs, double seat, double face) {
  Placed p{laid, seat, face};
  p.per_pole = blocks_per_pole(laid.place, pole_pairs, face);
  p.cover = p.per_pole * laid.place.width_mm / (2 * face * std::tan(pi / (2 * pole_pairs)));
  if (pole_pairs == 1) p.cover = p.per_pole * laid.place.width_mm / (pi * face);
  p.magnets = 2 * pole_pairs * p.per_pole * laid.rows;
  return p;
}

Placed in_ring(const Laid& laid, const PoleSet& set, const Wish& wish) {
  const double iron = back_iron_radius(set, wish), half = half_width(laid.place);
  if (iron <= half) return {laid};
  const double seat = twentieth_down(std::sqrt(iron * iron - half * half) - clearance_mm);
  return placed(laid, set.counts.ring, seat, seat - laid.place.thickness_mm);
}

Placed on_sun(const Laid& laid, const PoleSet& set, const Wish& wish, double modulator_inner) {
  const double seat = seat_below_corner(laid.place, modulator_inner - wish.gap_mm);
  if (seat < wish.bore_mm / 2 + least_hub_mm) return {laid};
  return placed(laid, set.counts.sun, seat, seat);
}

/// Strength of a rotor's fundamental, in no unit: what fills the pole, less what the gaps take.
double strength(const Placed& p, const Wish& wish) {
  const double t = p.laid.place.thickness_mm;
  return std::sin(std::min(p.cover, 1.0) * pi / 2) * t / (t + 2.5 * wish.gap_mm);
}

struct Pair {
  Placed sun, ring;
  double modulator_outer = 0.0, modulator_inner = 0.0;
  double torque = 0.0;    ///< likely, in no unit
  double material = 0.0;  ///< price, or volume
};

class Pairing {
 public:
  Pairing(const PoleSet& set, const Wish& wish) : set_(set), wish_(wish) {}

  std::vector<Pair> pairs(double pieces) {
    std::vector<Pair> all;
    const std::vector<Laid> laid = laid_blocks(wish_);
    if (laid.empty())
      why_ = "every block of the stock is longer than the stack of " +
             number_text(wish_.length_mm) + " mm";
    for (const Laid& in_ring_laid : laid) {
      const Placed ring = in_ring(in_ring_laid, set_, wish_);
      if (!fills(ring, "the ring")) continue;
      Pair pair;
      pair.ring = ring;
      pair.modulator_outer = tenth_down(ring.face_mm - wish_.gap_mm);
      pair.modulator_inner = tenth_down(pair.modulator_outer -
                                        piece_height(set_, wish_, pair.modulator_outer, pieces));
      if (!piece_is_wide(pair)) continue;
      for (const Laid& on_sun_laid : laid) {
        pair.sun = on_sun(on_sun_laid, set_, wish_, pair.modulator_inner);
        if (fills(pair.sun, "the sun") && equally_long(pair) && in_stock(pair))
          all.push_back(weighed(pair));
      }
    }
    return all;
  }

  /// Of the nearest miss.
  const std::string& why() const { return why_; }

 private:
  bool fills(const Placed& p, const char* rotor) {
    if (p.per_pole >= 1 && p.cover >= least_cover) return true;
    say(1, std::string("no block of the stock fits the poles of ") + rotor +
               " and fills half of them");
    return false;
  }
  bool piece_is_wide(const Pair& pair) {
    const double width = pi * pair.modulator_inner / set_.counts.pole_pieces;
    const std::string why =
        too_narrow("the width of a pole piece", width, wish_.narrowest_piece_mm);
    if (!why.empty()) say(2, why);
    return why.empty();
  }
  bool equally_long(const Pair& pair) {
    const double a = pair.sun.laid.length_mm, b = pair.ring.laid.length_mm;
    if (std::abs(a - b) <= most_difference * std::max(a, b)) return true;
    say(3, "the blocks that fit sun and ring make stacks of different length");
    return false;
  }
  bool in_stock(const Pair& pair) {
    const auto count = [&](std::size_t i) { return wish_.stock[i].count.value_or(1000000); };
    const std::size_t s = pair.sun.laid.index, r = pair.ring.laid.index;
    const bool enough = s == r ? pair.sun.magnets + pair.ring.magnets <= count(s)
                               : pair.sun.magnets <= count(s) && pair.ring.magnets <= count(r);
    if (!enough) say(4, "the stock has too few of the blocks that fit");
    return enough;
  }
  Pair weighed(Pair pair) const {
    const auto material = [&](const Placed& p) {
      const StockBlock& b = wish_.stock[p.laid.index];
      return p.magnets * b.price.value_or(b.width_mm * b.length_mm * b.thickness_mm);
    };
    pair.torque = strength(pair.sun, wish_) * strength(pair.ring, wish_) * pair.modulator_inner *
                  std::min(pair.sun.laid.length_mm, pair.ring.laid.length_mm);
    pair.material = material(pair.sun) + material(pair.ring);
    return pair;
  }
  void say(int nearness, const std::string& why) {
    if (nearness > nearness_) std::tie(nearness_, why_) = std::pair{nearness, why};
  }

  const PoleSet& set_;
  const Wish& wish_;
  int nearness_ = 0;
  std::string why_;
};

template <class Value>
void keep_best(std::vector<Pair> from, std::size_t n, Value value, std::vector<Pair>& into) {
  std::stable_sort(from.begin(), from.end(),
                   [&](const Pair& a, const Pair& b) { return value(a) > value(b); });
  const auto same = [](const Pair& a, const Pair& b) {
    return a.sun.laid.index == b.sun.laid.index && a.ring.laid.index == b.ring.laid.index &&
           a.sun.laid.place.width_mm == b.sun.laid.place.width_mm &&
           a.ring.laid.place.width_mm == b.ring.laid.place.width_mm;
  };
  for (std::size_t i = 0; i < std::min(n, from.size()); ++i)
    if (std::none_of(into.begin(), into.end(), [&](const Pair& p) { return same(p, from[i]); }))
      into.push_back(from[i]);
}

RotorDraft rotor_draft(const Placed& p, const Wish& wish, double stack, RotorDraft rotor) {
  rotor.grade = wish.stock[p.laid.index].grade;
  rotor.magnets = BlockDraft{p.laid.place.width_mm, p.laid.place.thickness_mm, clearance_mm,
                             p.seat_mm, p.per_pole};
  rotor.axial_rows = p.laid.rows;
  if (p.laid.length_mm != stack) rotor.active_length_mm = p.laid.length_mm;
  return rotor;
}

Section section_of(const Pair& pair, const PoleSet& set, const Wish& wish) {
  Section s;
  s.draft = common_draft(set, wish);
  const double stack = std::min(pair.sun.laid.length_mm, pair.ring.laid.length_mm);
  s.draft.stack_length_mm = stack;
  s.draft.sun = rotor_draft(pair.sun, wish, stack, s.draft.sun);
  s.draft.ring = rotor_draft(pair.ring, wish, stack, s.draft.ring);
  s.draft.modulator.inner_radius_mm = pair.modulator_inner;
  s.draft.modulator.outer_radius_mm = pair.modulator_outer;
  s.piece_width_mm = pi * pair.modulator_inner / set.counts.pole_pieces;
  s.sun_magnet_width_mm = pair.sun.laid.place.width_mm;
  s.ring_magnet_width_mm = pair.ring.laid.place.width_mm;
  s.sun_magnets = pair.sun.magnets;
  s.ring_magnets = pair.ring.magnets;
  const StockBlock &sun = wish.stock[pair.sun.laid.index], &ring = wish.stock[pair.ring.laid.index];
  s.sun_block = sun.name;
  s.ring_block = ring.name;
  if (sun.price && ring.price)
    s.cost = pair.sun.magnets * *sun.price + pair.ring.magnets * *ring.price;
  return s;
}

}  // namespace

Sections block_sections(const PoleSet& set, const Wish& wish) {
  Pairing pairing(set, wish);
  const std::vector<Pair> pairs = pairing.pairs(1.0);
  if (pairs.empty()) return {{}, pairing.why()};
  std::vector<Pair> kept;
  keep_best(
      pairs, pairs_by_torque, [](const Pair& p) { return p.torque; }, kept);
  keep_best(
      pairs, pairs_by_material, [](const Pair& p) { return p.torque / p.material; }, kept);
  Sections sections;
  for (const Pair& pair : kept) sections.all.push_back(section_of(pair, set, wish));
  return sections;
}

}  // namespace lodegear
