// tests/cases/pole_sets_test.cpp — pole counts that give a ratio, and what the counts alone tell.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/pole_sets.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <set>

#include "cases/choosing/section.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "materials/constants.h"
#include "mesh/ladder.h"
#include "solver/gap/gap_field.h"

using namespace lodegear;
using Catch::Contains;

namespace {

Wish wish_for(double ratio, double tolerance) {
  Wish wish;
  wish.ratio = ratio;
  wish.tolerance = tolerance;
  wish.diameter_mm = 100;
  wish.length_mm = 30;
  return wish;
}

bool has_set(const std::vector<PoleSet>& sets, int sun, int ring, Member held) {
  return std::any_of(sets.begin(), sets.end(), [&](const PoleSet& s) {
    return s.counts.sun == sun && s.counts.ring == ring && s.drive.held == held;
  });
}

}  // namespace

TEST_CASE(
    "pole sets: n/p_s with the ring held, p_r/p_s reversed with the modulator held, n/p_r with "
    "the sun held",
    "[cases][choosing]") {
  // Source: Atallah, Howe, IEEE Trans. Magn. 37(4) (2001) 2844.
  const auto sets = pole_sets(wish_for(5.75, 0.0));
  CHECK(has_set(sets, 4, 19, Member::ring));  // 23/4
  CHECK_FALSE(has_set(sets, 4, 19, Member::modulator));
  CHECK(has_set(sets, 4, 23, Member::modulator));  // 23/4 the other way
  for (const PoleSet& s : sets) {
    const double p_s = s.counts.sun, p_r = s.counts.ring, n = s.counts.pole_pieces;
    CHECK(n == p_s + p_r);
    const double ratio = s.drive.held == Member::modulator ? -p_r / p_s
                         : s.drive.held == Member::ring    ? n / p_s
                                                           : n / p_r;
    CHECK(s.drive.input_over_output == Approx(ratio).epsilon(1e-14));
    CHECK(std::abs(ratio) == Approx(5.75).epsilon(1e-9));
  }
  const auto slow = pole_sets(wish_for(1.25, 0.0));
  CHECK(has_set(slow, 1, 4, Member::sun));  // 5/4
}

TEST_CASE("pole sets: direction, held member, tolerance and balance are kept to",
          "[cases][choosing]") {
  Wish wish = wish_for(10, 0.03);
  wish.turning = Turning::reversed;
  for (const PoleSet& s : pole_sets(wish)) CHECK(s.drive.held == Member::modulator);
  wish.turning = Turning::same;
  for (const PoleSet& s : pole_sets(wish)) CHECK(s.drive.held != Member::modulator);
  wish.turning = Turning::either;
  wish.held = {Member::ring};
  wish.balanced = true;
  const auto sets = pole_sets(wish);
  REQUIRE_FALSE(sets.empty());
  for (const PoleSet& s : sets) {
    CHECK(s.drive.held == Member::ring);
    CHECK(balanced(s.counts));
    CHECK(std::abs(s.off(wish)) <= 0.03 + 1e-9);
    CHECK(s.counts.sun <= s.counts.ring);
  }
  // None is missing: counted directly.
  int all = 0;
  for (int sun = 1; sun <= 200; ++sun)
    for (int ring = sun; ring <= 200; ++ring) {
      const double off = (sun + ring) / (10.0 * sun) - 1;
      if (std::abs(off) <= 0.03 + 1e-9 && std::gcd(2 * sun, sun + ring) > 1) ++all;
    }
  CHECK(static_cast<int>(sets.size()) == all);
}

TEST_CASE("pole sets: the cogging factor of sun and ring is one number, and one means a side pull",
          "[cases][choosing]") {
  for (int sun = 1; sun <= 12; ++sun)
    for (int ring = sun; ring <= 40; ++ring) {
      const PoleCounts c{sun, sun + ring, ring};
      // 2p·n/LCM(2p, n), the factor the trade judges cogging by (common practice, no source).
      CHECK(2 * sun * c.pole_pieces / coggings_per_turn(c, Member::sun) == repeats(c));
      CHECK(2 * ring * c.pole_pieces / coggings_per_turn(c, Member::ring) == repeats(c));
      CHECK(balanced(c) == (repeats(c) > 1));
      if (c.pole_pieces % 2 == 0) CHECK(balanced(c));  // half a turn repeats it
    }
  CHECK(repeats({4, 23, 19}) == 1);
  CHECK(repeats({4, 26, 22}) == 2);
  CHECK(repeats({3, 15, 12}) == 3);
}

TEST_CASE("pole sets: side pull is there exactly where the cross-section does not repeat",
          "[cases][choosing][slow]") {
  // The solver knows nothing of the rule. Odd n with and without a common divisor, even n.
  struct Gear {
    PoleCounts counts;
    bool repeats;
  };
  const Catalogue catalogue;
  for (const Gear& g : {Gear{{4, 17, 13}, false}, Gear{{3, 16, 13}, true}, Gear{{3, 15, 12}, true},
                        Gear{{4, 18, 14}, true}, Gear{{5, 21, 16}, false}}) {
    INFO(counts_text(g.counts));
    CHECK(balanced(g.counts) == g.repeats);
    const Wish wish = wish_for(1, 0);
    const PoleSet set = all_drives_of(g.counts).front();
    const Section section = sections(set, wish).all.front();
    const Case c = read_case_text(case_text(section.draft), "test", catalogue);
    const PreparedCase prepared = prepared_case(c, resolution_for(c.gear, 0.0, false));
    // An odd position, so that no mirror symmetry does the work; N/m on the sun. The solver stops
    // at 1e-9 of the load: some mN/m.
    const FieldSolution s = prepared.solver->solve({.sun = 0.3, .modulator = 0.05});
    REQUIRE(s.summary.converged);
    const double pull = gap_force(s.gaps[0]).norm();
    if (g.repeats)
      CHECK(pull < 0.05);
    else
      CHECK(pull > 500.0);
  }
}

TEST_CASE("pole sets: flux frequencies follow from the speeds", "[cases][choosing]") {
  // 4/23/19, ring held, sun at 1000 rpm: the modulator turns with 4/23 of it. In the pole pieces
  // p_s (1 − 4/23) 1000/60 = p_r · 4/23 · 1000/60 Hz.
  for (const PoleSet& set : all_drives_of({4, 23, 19})) {
    const FluxFrequencies f = flux_frequencies(set, 1000);
    if (set.drive.held == Member::ring) {
      CHECK(f.pole_pieces == Approx(19 * 4.0 / 23 * 1000 / 60).epsilon(1e-12));
      CHECK(f.pole_pieces == Approx(4 * (1 - 4.0 / 23) * 1000 / 60).epsilon(1e-12));
      CHECK(f.ring == Approx(4 * 1000.0 / 60).epsilon(1e-12));  // n times the modulator's speed
    }
    if (set.drive.held == Member::modulator)
      CHECK(f.sun == Approx(23 * 1000.0 / 60).epsilon(1e-12));
  }
}

TEST_CASE("pole sets: a gear from the command line is p_s/n/p_r or told", "[cases][choosing]") {
  CHECK(counts_from_text("4/23/19", "--why").ring == 19);
  for (const char* text : {"", "4", "4/23", "4/22/19", "4/23/19/", "a/b/c", "0/5/5", "4/23/19x",
                           "-4/15/19", "300/500/200"})
    CHECK_THROWS_WITH(counts_from_text(text, "--why"), Contains("--why") && Contains("4/23/19"));
}

TEST_CASE("pole sets: what is left out has its reason", "[cases][choosing]") {
  Wish wish = wish_for(5.75, 0.01);
  const auto why = [&](const PoleCounts& c, std::size_t drive) {
    return why_not(all_drives_of(c)[drive], wish);  // modulator, ring, sun held
  };
  CHECK(why({4, 23, 19}, 1).empty());
  CHECK_THAT(why({4, 23, 19}, 0), Contains("4.75 to one the opposite way"));
  CHECK_THAT(why({19, 23, 4}, 1), Contains("4/23/19 gives the same ratios"));
  wish.balanced = true;
  CHECK_THAT(why({4, 23, 19}, 1), Contains("no common divisor"));
  wish.held = {Member::sun};
  CHECK_THAT(why({4, 23, 19}, 1), Contains("not to be held"));
}
