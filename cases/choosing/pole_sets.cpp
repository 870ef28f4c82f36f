// cases/choosing/pole_sets.cpp — pole counts that give a ratio, and what the counts alone tell.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/pole_sets.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numeric>

#include "cases/units.h"
#include "materials/constants.h"
#include "materials/words.h"
#include "solver/motion/drive.h"

namespace lodegear {

double PoleSet::off(const Wish& wish) const {
  return std::abs(drive.input_over_output) / wish.ratio - 1;
}

std::string counts_text(const PoleCounts& c) {
  return std::to_string(c.sun) + "/" + std::to_string(c.pole_pieces) + "/" + std::to_string(c.ring);
}

PoleCounts counts_from_text(const std::string& text, const std::string& option) {
  std::vector<int> numbers;
  const char *at = text.data(), *const end = at + text.size();
  for (bool more = true; more && numbers.size() < 3;) {
    int number = 0;
    const auto read = std::from_chars(at, end, number);
    if (read.ec != std::errc()) break;
    numbers.push_back(number);
    at = read.ptr;
    more = at != end && *at == '/';
    if (more) ++at;
  }
  const bool good = numbers.size() == 3 && at == end && text.back() != '/' && numbers[0] >= 1 &&
                    numbers[2] >= 1 && numbers[0] <= most_pole_pairs &&
                    numbers[2] <= most_pole_pairs && numbers[0] + numbers[2] == numbers[1];
  if (!good)
    throw InputError({{{},
                       option,
                       in_quotes(text) + " is no gear; write it as p_s/n/p_r with n = p_s + p_r, "
                                         "as 4/23/19, at most 200 pole pairs on a rotor."}});
  return {numbers[0], numbers[1], numbers[2]};
}

int repeats(const PoleCounts& counts) { return std::gcd(2 * counts.sun, counts.pole_pieces); }

int coggings_per_turn(const PoleCounts& counts, Member rotor) {
  return std::lcm(2 * (rotor == Member::ring ? counts.ring : counts.sun), counts.pole_pieces);
}

FluxFrequencies flux_frequencies(const PoleSet& set, double input_speed_rpm) {
  const MemberSpeeds w = speeds_in_step(
      set.counts, {set.drive.held, set.drive.input, set.drive.output}, from_rpm(input_speed_rpm));
  const double sun = std::abs(w.sun - w.modulator) / (2 * pi);
  const double ring = std::abs(w.ring - w.modulator) / (2 * pi);
  return {set.counts.sun * sun, set.counts.pole_pieces * sun, set.counts.pole_pieces * ring};
}

std::vector<PoleSet> all_drives_of(const PoleCounts& counts) {
  std::vector<PoleSet> all;
  for (const SpeedRatio& drive : speed_ratios(counts)) all.push_back({counts, drive});
  return all;
}

namespace {

std::string turns_text(double ratio) {
  return rounded_text(std::abs(ratio), 3) +
         (ratio < 0 ? " to one the opposite way" : " to one the same way");
}

bool held_is_wanted(const PoleSet& set, const Wish& wish) {
  return wish.held.empty() ||
         std::find(wish.held.begin(), wish.held.end(), set.drive.held) != wish.held.end();
}

bool turns_right(const PoleSet& set, const Wish& wish) {
  return wish.turning == Turning::either ||
         (set.drive.input_over_output > 0) == (wish.turning == Turning::same);
}

// A ratio just at the end of the tolerance is in it.
bool ratio_fits(const PoleSet& set, const Wish& wish) {
  return std::abs(set.off(wish)) <= wish.tolerance + 1e-9;
}

}  // namespace

std::string why_not(const PoleSet& set, const Wish& wish) {
  if (set.counts.sun > set.counts.ring)
    return "the sun has more poles than the ring; " +
           counts_text({set.counts.ring, set.counts.pole_pieces, set.counts.sun}) +
           " gives the same ratios with the finer poles outside, where there is room";
  const std::string with_held = std::string("with the ") + name_of(set.drive.held) + " held ";
  if (!held_is_wanted(set, wish))
    return std::string("the ") + name_of(set.drive.held) + " is not to be held";
  if (!turns_right(set, wish) || !ratio_fits(set, wish))
    return with_held + "it turns " + turns_text(set.drive.input_over_output);
  if (wish.balanced && !balanced(set.counts))
    return std::to_string(2 * set.counts.sun) + " sun poles and " +
           std::to_string(set.counts.pole_pieces) +
           " pole pieces have no common divisor: the members pull each other sideways";
  return {};
}

// Thousands of counts are gone through: the words are made for those that are asked about only.
static bool fits(const PoleSet& set, const Wish& wish) {
  return set.counts.sun <= set.counts.ring && held_is_wanted(set, wish) && turns_right(set, wish) &&
         ratio_fits(set, wish) && !(wish.balanced && !balanced(set.counts));
}

std::vector<PoleSet> pole_sets(const Wish& wish) {
  std::vector<PoleSet> all;
  for (int sun = 1; sun <= most_pole_pairs; ++sun)
    for (int ring = sun; ring <= most_pole_pairs; ++ring)
      for (const PoleSet& set : all_drives_of({sun, sun + ring, ring}))
        if (fits(set, wish)) all.push_back(set);
  return all;
}

}  // namespace lodegear
