// cases/choosing/sections.cpp — the proportions that are computed for a row.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/section.h"

namespace lodegear {

namespace {

// About the rule's own, one at a time: thinner and thicker magnets, lower and higher pole pieces.
constexpr Proportions tried[] = {{1.0, 1.0}, {0.7, 1.0}, {1.4, 1.0}, {1.0, 0.75}, {1.0, 1.35}};

Sections arc_sections(const PoleSet& set, const Wish& wish) {
  Sections all;
  for (const Proportions& p : tried) {
    Sections one = arc_section(set, wish, p);
    if (!one.all.empty())
      all.all.push_back(std::move(one.all.front()));
    else if (all.why_not.empty())
      all.why_not = one.why_not;
  }
  if (!all.all.empty()) all.why_not.clear();
  return all;
}

}  // namespace

Sections sections(const PoleSet& set, const Wish& wish) {
  return wish.stock.empty() ? arc_sections(set, wish) : block_sections(set, wish);
}

}  // namespace lodegear
