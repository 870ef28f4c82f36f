// cases/choosing/choose.h — all sensible pole counts for a wish, computed and ranked.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cases/choosing/design.h"
#include "cases/choosing/section.h"
#include "cases/run_case.h"

namespace lodegear {

/// A pole count with a drawn cross-section.
struct ChoiceRow {
  PoleSet set;
  Section section;
  DesignFigures figures;
  bool proportioned = false;  ///< the best of several proportions; else a first look at one
  bool holds_torque = true;   ///< the wished one, if there is one
};

/// A pole count that gives the ratio and is not there.
struct LeftOut {
  PoleSet set;
  std::string why;
};

struct Choice {
  std::vector<ChoiceRow> rows;  ///< best first
  std::vector<LeftOut> left_out;
  int computed = 0;  ///< cross-sections
};

// Each pole count is computed with the likeliest cross-section. Those that then lead get the others
// too and keep, of those that hold the wished torque, the one with the most torque per cost or mass
// of magnets; if none holds it, the one with the most torque; without a wished torque, the best of
// those with nine tenths of the most torque. Otherwise thin magnets, which give little but cost
// less, would always win.
//
// Rows are ordered: proportioned before looked at; holding the torque before not; cogging below a
// tenth of the slip torque before worse; then by what the wish asks (torque over magnets' mass or
// cost or volume, nearness of the ratio, least cogging); those that do not hold the torque by
// torque. Torque counts less where bearings must carry a side pull, where cogging may be felt and
// for every magnet that is to be set (engineering judgement, no source): of two that are nearly
// alike the one that is easier to build stands first.

/// Rows that get several proportions.
inline constexpr std::size_t most_proportioned = 16;
/// Cogging, part of slip torque, above which a row stands behind others.
inline constexpr double strong_cogging = 0.1;
/// Cogging that may be felt, likewise.
inline constexpr double noticeable_cogging = 0.01;

/// Parts by which the torque of a row counts less.
struct Discount {
  double side_pull = 0.0, cogging = 0.0, magnets = 0.0;
  double all() const { return side_pull + cogging + magnets; }
};
Discount discount(const ChoiceRow& row);
/// Whether the members pull each other with more than magnets and steel weigh.
bool pulls_sideways(const ChoiceRow& row);

/// What the rows are ordered by, more is better; without discount.
double value_of(const ChoiceRow& row, const Wish& wish);

/// Same rows, bit by bit, whatever the number of threads. Throws InputError with the nearest that
/// is possible if nothing fits.
Choice choose(const Wish& wish, const Catalogue& catalogue, const RunOptions& options);

/// What stands in the file of a row; its comment tells where the row comes from.
CaseDraft draft_of(const ChoiceRow& row, const Wish& wish);

}  // namespace lodegear
