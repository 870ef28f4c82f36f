// cases/choosing/layout.cpp — radii from the outside to the inside, shared by arcs and blocks.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/layout.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"
#include "materials/words.h"

namespace lodegear {

double tenth_down(double mm) { return std::floor(mm * 10 + 1e-6) / 10; }
double tenth_up(double mm) { return std::ceil(mm * 10 - 1e-6) / 10; }

double envelope_radius(const Wish& wish) { return wish.diameter_mm / 2; }

double back_iron_radius(const PoleSet& set, const Wish& wish) {
  constexpr double ring_field = 0.5, working_field = 0.25, steel_bears = 1.6;  // T
  const double radius = envelope_radius(wish);
  const double of_ring = pi / 4 * ring_field * radius / set.counts.ring;
  const double of_sun = working_field * radius / set.counts.sun;
  const double thickness = std::max(0.02 * radius, (of_ring + of_sun) / steel_bears);
  return tenth_down(radius - thickness);
}

double piece_height(const PoleSet& set, const Wish& wish, double outer_radius, double factor) {
  const double pitch = 2 * pi * outer_radius / set.counts.pole_pieces;
  const double height = factor * std::min(0.4 * pitch, 0.16 * outer_radius);
  // A bar that is lower than this bends, or is all fixing.
  const double stiff = std::max(2 * wish.narrowest_piece_mm, 0.03 * outer_radius);
  return tenth_up(std::max({height, 2.5 * wish.gap_mm, stiff}));
}

double least_thickness(const Wish& wish) { return 2.0 / 3.0 * wish.narrowest_magnet_mm; }

CaseDraft common_draft(const PoleSet& set, const Wish& wish) {
  CaseDraft draft;
  draft.name = counts_text(set.counts);
  draft.sun_pole_pairs = set.counts.sun;
  draft.ring_pole_pairs = set.counts.ring;
  draft.stack_length_mm = wish.length_mm;
  if (wish.magnet_temperature != 20.0) draft.magnet_temperature = wish.magnet_temperature;
  draft.sun.iron = {wish.steel, wish.bore_mm / 2, 0.0};
  draft.ring.iron = {wish.steel, 0.0, envelope_radius(wish)};
  draft.modulator.material = wish.sheet;
  draft.held = set.drive.held;
  draft.input = set.drive.input;
  draft.input_speed_rpm = wish.speed_rpm;
  draft.wanted_slip_torque = wish.torque;
  draft.wanted_outer_diameter_mm = wish.diameter_mm;
  return draft;
}

std::string too_narrow(const char* what, double is_mm, double least_mm) {
  if (is_mm >= least_mm) return {};
  return std::string(what) + " would be " + rounded_text(std::max(is_mm, 0.0), 1) +
         " mm, less than " + number_text(least_mm) + " mm";
}

}  // namespace lodegear
