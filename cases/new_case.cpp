// cases/new_case.cpp — placing blocks around given pole counts and writing the file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/new_case.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "cases/block_fit.h"
#include "cases/case_text.h"
#include "materials/input_error.h"
#include "materials/words.h"

namespace lodegear {

namespace {

BlockPlace block_of(const NewCaseOptions& o) {
  return {o.block_width_mm, o.block_thickness_mm, o.clearance_mm};
}

struct Radii {
  double modulator_inner = 0.0, modulator_outer = 0.0;
  double sun_seat = 0.0;   ///< inner faces of the sun's blocks
  double ring_face = 0.0;  ///< inner faces of the ring's blocks
};

/// Modulator radius at which the sun's blocks have the seat `seat`.
double modulator_inner_for(const NewCaseOptions& o, double seat) {
  return std::hypot(seat + o.block_thickness_mm, o.block_width_mm / 2) + o.gap_mm;
}

Radii chosen_radii(const NewCaseOptions& o) {
  // Pole pieces somewhat higher than the magnets are thick: less leaks between the rotors past
  // them, more is only weight (common practice, no source).
  const double height = o.block_thickness_mm + 2.0;
  Radii r;
  const double for_ring = least_face_distance(block_of(o), 2 * o.ring_pole_pairs) - o.gap_mm;
  const double least_seat =
      std::max(least_face_distance(block_of(o), 2 * o.sun_pole_pairs), o.block_thickness_mm + 2.0);
  const double for_sun = modulator_inner_for(o, least_seat + 0.05) + height;
  r.modulator_inner = o.modulator_inner_radius_mm;
  r.modulator_outer = o.modulator_outer_radius_mm;
  if (r.modulator_outer == 0.0)
    r.modulator_outer = r.modulator_inner > 0.0
                            ? std::max(r.modulator_inner + height, twentieth_up(for_ring))
                            : twentieth_up(std::max(for_ring, for_sun));
  if (r.modulator_inner == 0.0) r.modulator_inner = twentieth_down(r.modulator_outer - height);
  r.sun_seat = seat_below_corner(block_of(o), r.modulator_inner - o.gap_mm);
  r.ring_face = twentieth_up(r.modulator_outer + o.gap_mm);
  return r;
}

// ---- what cannot be -----------------------------------------------------------------------------

std::string mm(double x) { return rounded_text(x, 2) + " mm"; }

void require(bool good, const char* key, const std::string& text, std::vector<Complaint>& all) {
  if (!good) all.push_back({{}, key, text});
}

void require_between(double x, double least, double most, const char* key,
                     std::vector<Complaint>& all) {
  require(x >= least && x <= most, key,
          "is " + number_text(x) + "; it must be from " + number_text(least) + " to " +
              number_text(most) + ".",
          all);
}

void check_options(const NewCaseOptions& o) {
  std::vector<Complaint> all;
  require_between(o.sun_pole_pairs, 1, 200, "sun_pole_pairs", all);
  require_between(o.ring_pole_pairs, 1, 200, "ring_pole_pairs", all);
  require_between(o.block_width_mm, 0.5, 500, "block_width_mm", all);
  require_between(o.block_thickness_mm, 0.5, 500, "block_thickness_mm", all);
  require_between(o.stack_length_mm, 0.5, 5000, "stack_length_mm", all);
  require_between(o.gap_mm, 0.05, 100, "gap_mm", all);
  require_between(o.clearance_mm, 0.0, 10, "clearance_mm", all);
  require_between(o.modulator_inner_radius_mm, 0.0, 5000, "modulator_inner_radius_mm", all);
  require_between(o.modulator_outer_radius_mm, 0.0, 5000, "modulator_outer_radius_mm", all);
  if (!all.empty()) throw InputError(std::move(all));
}

void check_radii(const NewCaseOptions& o, const Radii& r) {
  std::vector<Complaint> all;
  require(r.modulator_outer - r.modulator_inner >= 0.5, "modulator_outer_radius_mm",
          "is " + mm(r.modulator_outer) +
              "; it must lie at least 0.5 mm outside the inner radius " + mm(r.modulator_inner) +
              ".",
          all);
  const double seat = least_face_distance(block_of(o), 2 * o.sun_pole_pairs);
  require(r.sun_seat > std::max(1.0, o.clearance_mm) &&
              blocks_per_pole(block_of(o), o.sun_pole_pairs, r.sun_seat) >= 1,
          "modulator_inner_radius_mm",
          "is " + mm(r.modulator_inner) + ", too small for " +
              std::to_string(2 * o.sun_pole_pairs) + " blocks of " + mm(o.block_width_mm) + " × " +
              mm(o.block_thickness_mm) + " on the sun; give at least " +
              mm(twentieth_up(modulator_inner_for(o, std::max(seat, 1.0) + 0.05))) +
              ", narrower blocks or fewer poles.",
          all);
  const double face = least_face_distance(block_of(o), 2 * o.ring_pole_pairs);
  require(blocks_per_pole(block_of(o), o.ring_pole_pairs, r.ring_face) >= 1,
          "modulator_outer_radius_mm",
          "is " + mm(r.modulator_outer) + ", too small for " +
              std::to_string(2 * o.ring_pole_pairs) + " blocks of " + mm(o.block_width_mm) +
              " in the ring; give at least " + mm(twentieth_up(face - o.gap_mm)) +
              ", narrower blocks or fewer poles.",
          all);
  if (!all.empty()) throw InputError(std::move(all));
}

// ---- the draft ----------------------------------------------------------------------------------

RotorDraft rotor_draft(const NewCaseOptions& o, int pole_pairs, double face, double seat) {
  RotorDraft rotor;
  rotor.grade = o.grade;
  rotor.magnets = BlockDraft{o.block_width_mm, o.block_thickness_mm, o.clearance_mm, seat,
                             blocks_per_pole(block_of(o), pole_pairs, face)};
  rotor.iron.material = o.steel;
  return rotor;
}

CaseDraft draft_of(const NewCaseOptions& o, const Radii& r) {
  CaseDraft draft;
  draft.comment =
      "A case for lodegear. Whatever is left out takes a default, which is listed as assumed in "
      "the "
      "results.";
  draft.name = o.name;
  draft.sun_pole_pairs = o.sun_pole_pairs;
  draft.ring_pole_pairs = o.ring_pole_pairs;
  draft.stack_length_mm = o.stack_length_mm;
  draft.sun = rotor_draft(o, o.sun_pole_pairs, r.sun_seat, r.sun_seat);
  const double seat = r.ring_face + o.block_thickness_mm;
  draft.ring = rotor_draft(o, o.ring_pole_pairs, r.ring_face, seat);
  const double corner = std::hypot(seat + o.clearance_mm, half_width(block_of(o)));
  draft.ring.iron.outer_radius_mm = twentieth_up(corner + o.block_thickness_mm + 0.05);
  draft.modulator = {o.sheet, r.modulator_inner, r.modulator_outer};
  return draft;
}

}  // namespace

std::string new_case_text(const NewCaseOptions& options) {
  check_options(options);
  const Radii radii = chosen_radii(options);
  check_radii(options, radii);
  return case_text(draft_of(options, radii));
}

}  // namespace lodegear
