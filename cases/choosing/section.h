// cases/choosing/section.h — a good first cross-section for given pole counts and envelope.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/case_text.h"
#include "cases/choosing/pole_sets.h"

namespace lodegear {

// Radii are laid out from the outside to the inside. Where the lengths come from (engineering
// judgement, no source, but for what is marked):
//   back iron    carries half a pole's flux of the ring and of the sun's working field:
//                (π/4 · 0.5 T · 2R/2p_r + 0.25 T · R/p_s)/1.6 T
//   magnets      as thick as a part of their pole pitch, but not more than some gaps: what is
//                thicker adds weight and little flux
//   pole pieces  as high as a part of their pitch: lower ones let the rotors' fields past, higher
//                ones only take room
// How thick is best no rule tells: a few proportions are computed for each row, and choose.h takes
// one of them.

/// Factors on the lengths that the rule gives.
struct Proportions {
  double magnets = 1.0, pieces = 1.0;
};

/// A drawn gear that can be built, and what a builder counts.
struct Section {
  CaseDraft draft;
  double piece_width_mm = 0.0;  ///< of a pole piece, at its inner radius
  double sun_magnet_width_mm = 0.0, ring_magnet_width_mm = 0.0;  ///< the narrow side of arcs
  int sun_magnets = 0, ring_magnets = 0;  ///< pieces to be had, axial rows included
  std::optional<double> cost;             ///< of all magnets
  std::string sun_block, ring_block;      ///< names in the stock
};

/// Sections to be computed, the likeliest first; or the reason why there is none.
struct Sections {
  std::vector<Section> all;
  std::string why_not;
};

/// Arcs where the wish has no stock, else blocks of it.
Sections sections(const PoleSet& set, const Wish& wish);

/// One section of arcs.
Sections arc_section(const PoleSet& set, const Wish& wish, const Proportions& proportions);

/// The likeliest pairs of blocks for sun and ring: as many side by side as fit, in rows along the
/// axis, from the stock and its counts.
Sections block_sections(const PoleSet& set, const Wish& wish);

}  // namespace lodegear
