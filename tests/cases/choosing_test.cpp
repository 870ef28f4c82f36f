// tests/cases/choosing_test.cpp — from a wish to drawn, computed and ranked gears.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <numbers>

#include "case_texts.h"
#include "cases/choosing/choose_text.h"
#include "cases/choosing/design_work.h"
#include "cases/choosing/layout.h"
#include "cases/choosing/read_stock.h"
#include "cases/run_case.h"
#include "mesh/check_gear.h"
#include "mesh/ladder.h"

using namespace lodegear;
using Catch::Contains;

namespace {

/// Small and quickly computed.
Wish small_wish() {
  Wish wish;
  wish.ratio = 3.5;
  wish.tolerance = 0.0;
  wish.held = {Member::ring};
  wish.diameter_mm = 50;
  wish.length_mm = 20;
  return wish;
}

StockBlock block(double width, double length, double thickness) {
  StockBlock b;
  b.name = "block";
  b.width_mm = width;
  b.length_mm = length;
  b.thickness_mm = thickness;
  b.grade = "N42";
  return b;
}

double gap(const Case& c, Gap which) { return gap_clearance(c.gear, which).magnetic; }

}  // namespace

TEST_CASE("choosing: every cross-section of arcs reads back, fits the envelope and keeps its gaps",
          "[cases][choosing]") {
  Wish wish = small_wish();
  wish.ratio = 5;
  wish.tolerance = 0.3;
  wish.bore_mm = 8;
  wish.held.clear();
  for (const double diameter : {50.0, 100.0, 400.0}) {
    wish.diameter_mm = diameter;
    int drawn = 0;
    for (const PoleSet& set : pole_sets(wish)) {
      if (set.counts.sun > 6) continue;  // enough of them
      for (const Section& s : sections(set, wish).all) {
        const Outcome result = outcome(case_text(s.draft));
        INFO(case_text(s.draft) << result.message());
        REQUIRE(result.read.has_value());
        ++drawn;
        CHECK(result.read->gear.ring->iron->outer_radius == Approx(diameter / 2000));
        CHECK(result.read->gear.sun->iron->inner_radius == Approx(0.004));
        // Radii are tenths of a millimetre.
        CHECK(gap(*result.read, Gap::inner) == Approx(1e-3).margin(1.1e-4));
        CHECK(gap(*result.read, Gap::outer) == Approx(1e-3).margin(1.1e-4));
        CHECK(s.piece_width_mm >= wish.narrowest_piece_mm);
        CHECK(s.ring_magnet_width_mm >= wish.narrowest_magnet_mm);
        CHECK(s.sun_magnets == 2 * set.counts.sun);
      }
    }
    CHECK(drawn > 0);
  }
}

TEST_CASE("choosing: what cannot be built says why", "[cases][choosing]") {
  Wish wish = small_wish();
  wish.diameter_mm = 20;
  const PoleSet fine = all_drives_of({10, 60, 50})[1];
  CHECK_THAT(sections(fine, wish).why_not, Contains("mm, less than"));
  wish.bore_mm = 15;
  CHECK_THAT(sections(all_drives_of({2, 7, 5})[1], wish).why_not, Contains("bore"));
}

TEST_CASE("choosing: blocks of the stock are laid as they fit, and never more than there are",
          "[cases][choosing]") {
  Wish wish = small_wish();
  wish.diameter_mm = 110;
  wish.length_mm = 40;
  wish.stock = {block(10, 20, 5), block(5, 20, 3)};
  const PoleSet set = all_drives_of({4, 23, 19})[1];
  const Sections found = sections(set, wish);
  REQUIRE_FALSE(found.all.empty());
  for (const Section& s : found.all) {
    const Outcome result = outcome(case_text(s.draft));
    INFO(case_text(s.draft) << result.message());
    REQUIRE(result.read.has_value());
    CHECK(gap(*result.read, Gap::inner) == Approx(1e-3).margin(1.1e-4));
    CHECK(result.read->gear.ring->iron->outer_radius == Approx(0.055));
    const auto& sun = std::get<BlockDraft>(s.draft.sun.magnets);
    CHECK(s.sun_magnets == 8 * sun.blocks_per_pole * s.draft.sun.axial_rows);
  }
  for (StockBlock& b : wish.stock) b.count = 10;
  CHECK_THAT(sections(set, wish).why_not, Contains("too few"));
  wish.stock = {block(60, 50, 5)};
  CHECK_THAT(sections(set, wish).why_not, Contains("longer than the stack"));
}

TEST_CASE("choosing: a quick slip torque is that of a fine mesh within what is said",
          "[cases][choosing][slow]") {
  const Catalogue catalogue;
  Wish wish = small_wish();
  wish.diameter_mm = 120;
  wish.length_mm = 40;
  for (const PoleCounts& counts : {PoleCounts{4, 25, 21}, PoleCounts{2, 22, 20}}) {
    const PoleSet set = all_drives_of(counts)[1];
    const Case c =
        read_case_text(case_text(sections(set, wish).all.front().draft), "test", catalogue);
    const auto quick = design_figures(c, set);
    REQUIRE(quick.has_value());
    const PreparedCase fine = prepared_case(c, resolution_for(c.gear, 2.0, false));
    double torque = 0.0;
    for (double degrees = 75; degrees <= 105; degrees += 5) {  // 2.5° beside a top: 0.1 %
      const FieldSolution s =
          fine.solver->solve({.sun = degrees / 180 * std::numbers::pi / counts.sun});
      REQUIRE(s.summary.converged);
      torque = std::max(torque, 0.040 * std::abs(s.torque(set.drive.output)));
    }
    INFO(counts_text(counts) << " quick " << quick->plane_torque << ", fine " << torque);
    CHECK(std::abs(quick->plane_torque / torque - 1) < design_error);
    CHECK(quick->ends > 0.6);
    CHECK(quick->ends < 1.0);
    // The stack that holds what this one holds is this one.
    CHECK(quick->length_for(quick->torque()) == Approx(0.040).epsilon(1e-9));
  }
}

TEST_CASE("choosing: a fine ring of many poles has its torque on every mesh",
          "[cases][choosing][slow]") {
  // 12/85/73: on the lowest rung as many orders as the gap alone asks for would leave out the
  // ring's own.
  const Catalogue catalogue;
  Wish wish = small_wish();
  wish.diameter_mm = 160;
  wish.narrowest_magnet_mm = 2;
  const PoleSet set = all_drives_of({12, 85, 73})[1];
  const Case c =
      read_case_text(case_text(sections(set, wish).all.front().draft), "test", catalogue);
  CHECK(resolution_for(c.gear, 0.0, false).orders_outer_gap > 73);
  const auto figures = design_figures(c, set);
  REQUIRE(figures.has_value());
  CHECK(figures->torque() > 20.0);
}

TEST_CASE("choosing: rows are in order, tell why, and one thread gives the bits of two",
          "[cases][choosing][slow]") {
  const Catalogue catalogue;
  Wish wish = small_wish();
  wish.tolerance = 0.02;
  const Choice one = choose(wish, catalogue, {1, {}});
  const Choice two = choose(wish, catalogue, {2, {}});
  CHECK(choice_csv(one, wish) == choice_csv(two, wish));
  REQUIRE(one.rows.size() >= 3);
  for (std::size_t i = 0; i + 1 < one.rows.size(); ++i) {
    const ChoiceRow &a = one.rows[i], &b = one.rows[i + 1];
    if (a.proportioned != b.proportioned ||
        (a.figures.cogging_below > strong_cogging) != (b.figures.cogging_below > strong_cogging))
      continue;
    CHECK(value_of(a, wish) * (1 - discount(a).all()) >=
          value_of(b, wish) * (1 - discount(b).all()));
  }
  for (const ChoiceRow& row : one.rows)  // the sum of what is there
    CHECK(row.figures.magnet_mass < row.figures.active_mass);
  CHECK_THAT(reasons(one, 0, wish), Contains("torque per volume"));
  const PoleCounts first = one.rows.front().set.counts;
  CHECK_THAT(standing(one, first, wish), Contains("row 1") && Contains("left out"));
  // A case file of a row reads, with the wish in it.
  wish.torque = 3.0;
  const Outcome read = outcome(case_text(draft_of(one.rows.front(), wish)));
  INFO(read.message());
  REQUIRE(read.read.has_value());
  CHECK(read.read->running->held == Member::ring);
}

TEST_CASE(
    "choosing: rows that hold the wished torque stand first, the others tell what length would",
    "[cases][choosing][slow]") {
  const Catalogue catalogue;
  Wish wish = small_wish();
  wish.tolerance = 0.02;
  wish.torque = 1000.0;
  const Choice none = choose(wish, catalogue, {2, {}});
  CHECK_FALSE(none.rows.front().holds_torque);
  CHECK_THAT(reasons(none, 0, wish), Contains("misses") && Contains("a stack of about"));
  const double most = none.rows.front().figures.torque();
  wish.torque = 0.97 * most;
  const Choice some = choose(wish, catalogue, {2, {}});
  CHECK(some.rows.front().holds_torque);
  CHECK(some.rows.front().figures.torque() >= *wish.torque);
  bool before = true;
  for (const ChoiceRow& row : some.rows) {
    if (!row.proportioned) break;
    if (row.holds_torque) CHECK(before);
    before = row.holds_torque;
  }
}

TEST_CASE("choosing: a wish that cannot be is told with what would be right", "[cases][choosing]") {
  const Catalogue catalogue;
  Wish wish = small_wish();
  const auto complaint = [&] {
    try {
      choose(wish, catalogue, {});
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("none");
  };
  SECTION("a ratio below one") {
    wish.ratio = 0.3;
    CHECK_THAT(complaint(), Contains("--ratio") && Contains("3.3333"));
  }
  SECTION("several at once") {
    wish.gap_mm = -1;
    wish.diameter_mm = 0;
    wish.grade = "N43";
    CHECK_THAT(complaint(), Contains("--gap") && Contains("--diameter") && Contains("N42"));
  }
  SECTION("nothing within the tolerance: the nearest") {
    wish.ratio = 6.11;
    wish.tolerance = 1e-4;
    CHECK_THAT(complaint(),
               Contains("The nearest that can be built is") && Contains("--tolerance"));
  }
  SECTION("right counts that nobody can build") {
    wish.diameter_mm = 10;
    CHECK_THAT(complaint(), Contains("none can be built") && Contains("less than"));
  }
  SECTION("the held member decides the direction") {
    wish.turning = Turning::reversed;
    CHECK_THAT(complaint(), Contains("with the modulator held the output turns the opposite way"));
  }
  SECTION("cost without prices") {
    wish.by = Order::cost;
    CHECK_THAT(complaint(), Contains("--by") && Contains("--stock"));
  }
}

TEST_CASE("choosing: a stock list is read, or told line by line", "[cases][choosing]") {
  const Catalogue catalogue;
  const auto path = std::filesystem::temp_directory_path() /
                    ("lodegear-stock-" + std::to_string(::getpid()) + ".toml");
  const auto read_text = [&](const std::string& text) {
    std::ofstream(path) << text;
    return read_stock(path, catalogue);
  };
  const std::string good =
      "[[block]]\nwidth_mm = 20\nlength_mm = 10\nthickness_mm = 5\ngrade = \"N42\"\n"
      "price = 0.8\ncount = 200\n";
  const auto blocks = read_text(good + good);
  CHECK(blocks.size() == 2);
  CHECK(blocks[0].name == "20 x 10 x 5");
  CHECK(*blocks[0].price == 0.8);
  CHECK(*blocks[0].count == 200);
  CHECK_THROWS_WITH(read_text(""), Contains("empty"));
  CHECK_THROWS_WITH(read_text("block = []\n"), Contains("give at least one [[block]]"));
  CHECK_THROWS_WITH(read_text("[[block]]\nwidth_mm = -2\nlenght_mm = 10\n"),
                    Contains("width_mm") && Contains("length_mm") && Contains("grade"));
  CHECK_THROWS_WITH(
      read_text(good +
                "[[block]]\nwidth_mm = 8\nlength_mm = 8\nthickness_mm = 3\ngrade = \"N43\"\n"),
      Contains("price") && Contains("N42"));
  std::filesystem::remove(path);
}
