// cases/choosing/nothing_fits.cpp — what to tell a person whose wish nothing fits.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/nothing_fits.h"

#include <algorithm>
#include <cmath>

#include "materials/words.h"

namespace lodegear {

namespace {

constexpr double greatest_tolerance = 50.0;  // per cent, as check_wish has it

/// The buildable set whose ratio is nearest, whatever the tolerance.
std::optional<PoleSet> nearest(Wish wish) {
  wish.tolerance = 1e9;
  std::vector<PoleSet> sets = pole_sets(wish);
  std::stable_sort(sets.begin(), sets.end(), [&](const PoleSet& a, const PoleSet& b) {
    return std::abs(std::log1p(a.off(wish))) < std::abs(std::log1p(b.off(wish)));
  });
  for (const PoleSet& set : sets)
    if (!sections(set, wish).all.empty()) return set;
  return std::nullopt;
}

std::string wanted_text(const Wish& wish) {
  return rounded_text(wish.ratio, 4) + " to one" +
         (wish.turning == Turning::same       ? " the same way"
          : wish.turning == Turning::reversed ? " the opposite way"
                                              : "") +
         " within " + rounded_text(100 * wish.tolerance, 3) + " %" +
         (wish.balanced ? " with balanced pull" : "");
}

std::string nearest_text(const Wish& wish) {
  const auto set = nearest(wish);
  if (!set)
    return " Nothing at all fits: give a larger --diameter, another --held or --direction (with "
           "the "
           "modulator held the output turns the opposite way, with ring or sun held the same way; "
           "with the sun held at most 2 to one), or other blocks.";
  const double off = 100 * std::abs(set->off(wish));
  return " The nearest that can be built is " + counts_text(set->counts) + ", " +
         ratio_text(set->drive) + " with the " + name_of(set->drive.held) + " held; it is off by " +
         rounded_text(off, 2) + " %" +
         (off < greatest_tolerance
              ? " (--tolerance " + rounded_text(std::ceil(10 * off) / 10, 1) + "%)."
              : std::string("."));
}

}  // namespace

std::string ratio_text(const SpeedRatio& drive) {
  return rounded_text(std::abs(drive.input_over_output), 4) + " to one " +
         (drive.input_over_output < 0 ? "the opposite way" : "the same way");
}

std::string nothing_fits(const Wish& wish, const std::vector<LeftOut>& left_out) {
  if (left_out.empty())
    return "No pole counts give " + wanted_text(wish) + "." + nearest_text(wish);
  const LeftOut& first = left_out.front();  // fewest poles
  return std::to_string(left_out.size()) +
         (left_out.size() == 1 ? " pole count gives " : " pole counts give ") + wanted_text(wish) +
         ", none can be built; the one with the fewest poles, " + counts_text(first.set.counts) +
         ": " + first.why + "." + nearest_text(wish);
}

}  // namespace lodegear
