// cases/choosing/choose_text.h — ranked pole counts for the screen, with reasons, and as CSV.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/choosing/choose.h"

namespace lodegear {

/// The first `n_rows` rows as a table, a reason for each, and what builds the first three.
std::string choice_text(const Choice& choice, const Wish& wish, std::size_t n_rows);

/// What speaks for a row and against it, as one sentence or two; `row` counts from 0.
std::string reasons(const Choice& choice, std::size_t row, const Wish& wish);

/// Sizes, counts and frequencies of a row.
std::string how_built(const ChoiceRow& row, const Wish& wish);

/// Where a pole count stands with each member held, or why it was left out; a line each.
std::string standing(const Choice& choice, const PoleCounts& counts, const Wish& wish);

/// All rows, best first: header, dot decimals, units at the ends of the names.
std::string choice_csv(const Choice& choice, const Wish& wish);

}  // namespace lodegear
