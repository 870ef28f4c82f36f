// cases/choosing/arc_section.cpp — a cross-section of arcs made to measure.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "cases/choosing/layout.h"
#include "materials/constants.h"

namespace lodegear {

namespace {

struct Radii {
  double ring_outer = 0.0, ring_inner = 0.0;
  double modulator_outer = 0.0, modulator_inner = 0.0;
  double sun_outer = 0.0, sun_inner = 0.0;
};

/// Of a pole pitch, within gaps.
double magnet_thickness(const Wish& wish, double pitch, double part, double gaps, double factor) {
  const double thickness = factor * std::min(part * pitch, gaps * std::max(wish.gap_mm, 0.5));
  return tenth_up(std::max(thickness, least_thickness(wish)));
}

Radii radii(const PoleSet& set, const Wish& wish, const Proportions& p) {
  Radii r;
  r.ring_outer = back_iron_radius(set, wish);
  r.ring_inner =
      tenth_down(r.ring_outer -
                 magnet_thickness(wish, pi * r.ring_outer / set.counts.ring, 0.5, 5.0, p.magnets));
  r.modulator_outer = tenth_down(r.ring_inner - wish.gap_mm);
  r.modulator_inner = r.modulator_outer - piece_height(set, wish, r.modulator_outer, p.pieces);
  r.modulator_inner = tenth_down(r.modulator_inner);
  r.sun_outer = tenth_down(r.modulator_inner - wish.gap_mm);
  r.sun_inner = tenth_down(
      r.sun_outer - magnet_thickness(wish, pi * r.sun_outer / set.counts.sun, 0.3, 7.0, p.magnets));
  return r;
}

/// The chord of an arc at its narrow side.
double narrow_side(double inner_radius, int pole_pairs) {
  return pole_pairs == 1 ? 2 * inner_radius : 2 * inner_radius * std::sin(pi / (2 * pole_pairs));
}

std::string why_not(const Section& s, const Wish& wish, const Radii& r) {
  for (const std::string& why :
       {too_narrow("steel between bore and sun magnets", r.sun_inner - wish.bore_mm / 2,
                   least_hub_mm),
        too_narrow("the width of a pole piece", s.piece_width_mm, wish.narrowest_piece_mm),
        too_narrow("the width of a ring magnet", s.ring_magnet_width_mm, wish.narrowest_magnet_mm),
        too_narrow("the width of a sun magnet", s.sun_magnet_width_mm, wish.narrowest_magnet_mm)})
    if (!why.empty()) return why;
  return {};
}

}  // namespace

Sections arc_section(const PoleSet& set, const Wish& wish, const Proportions& proportions) {
  const Radii r = radii(set, wish, proportions);
  Section s;
  s.draft = common_draft(set, wish);
  s.draft.sun.grade = s.draft.ring.grade = wish.grade;
  s.draft.sun.magnets = ArcDraft{r.sun_inner, r.sun_outer};
  s.draft.ring.magnets = ArcDraft{r.ring_inner, r.ring_outer};
  s.draft.modulator.inner_radius_mm = r.modulator_inner;
  s.draft.modulator.outer_radius_mm = r.modulator_outer;
  s.piece_width_mm = pi * r.modulator_inner / set.counts.pole_pieces;
  s.sun_magnet_width_mm = narrow_side(r.sun_inner, set.counts.sun);
  s.ring_magnet_width_mm = narrow_side(r.ring_inner, set.counts.ring);
  s.sun_magnets = 2 * set.counts.sun;
  s.ring_magnets = 2 * set.counts.ring;
  const std::string why = why_not(s, wish, r);
  if (!why.empty()) return {{}, why};
  return {{s}, {}};
}

}  // namespace lodegear
