// cases/choosing/choice_case.cpp — the case file of a row.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/choose.h"
#include "cases/choosing/nothing_fits.h"
#include "cases/figures.h"
#include "cases/text_table.h"
#include "materials/words.h"

namespace lodegear {

namespace {

std::string wish_line(const Wish& wish) {
  return "Chosen for " + rounded_text(wish.ratio, 4) + " to one within " +
         rounded_text(100 * wish.tolerance, 3) + " % in " + number_text(wish.diameter_mm) +
         " mm × " + number_text(wish.length_mm) + " mm" +
         (wish.torque ? ", " + number_text(*wish.torque) + " N·m of slip torque on the output"
                      : "") +
         ".";
}

}  // namespace

CaseDraft draft_of(const ChoiceRow& row, const Wish& wish) {
  CaseDraft draft = row.section.draft;
  const SpeedRatio& drive = row.set.drive;
  draft.comment =
      "A case for lodegear. Whatever is left out takes a default, which is listed as assumed in "
      "the "
      "results.\n" +
      wrapped(wish_line(wish) + " With the " + name_of(drive.held) + " held the " +
                  name_of(drive.input) + " turns " + ratio_text(drive) + " of the " +
                  name_of(drive.output) + ". A quick look expects it to slip at about " +
                  torque_text(row.figures.torque(), 2) + " on the " + name_of(drive.output) +
                  "; the radii are a first guess. Next: lodegear validate.",
              "", 96);
  draft.comment.pop_back();
  return draft;
}

}  // namespace lodegear
