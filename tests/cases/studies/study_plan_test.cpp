// tests/cases/studies/study_plan_test.cpp — from a study and its base case to every design.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_plan.h"

#include <catch2/catch.hpp>
#include <set>

#include "cases/read_case.h"
#include "cases/studies/read_study.h"
#include "cases/studies/varied_values.h"
#include "materials/write_toml.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;

namespace {

const Catalogue catalogue;

StudyPlan plan_of(const std::string& text, const std::string& base = small_case) {
  return {read_study_text("case = \"c.toml\"\n" + text, "s.toml"), base, "c.toml", catalogue};
}

std::string complaints(const std::string& text, const std::string& base = small_case) {
  try {
    plan_of(text, base);
    return "none";
  } catch (const InputError& error) {
    std::string all;
    for (const Complaint& c : error.complaints()) all += to_string(c) + "\n";
    return all;
  }
}

std::string vary(const std::string& key, const std::string& how) {
  return "[[vary]]\nkey = \"" + key + "\"\n" + how + "\n";
}

Gear gear_of(const Design& design) { return read_case_text(design.case_text, "d", catalogue).gear; }

}  // namespace

TEST_CASE("written TOML: a tree comes back as it was", "[materials][studies]") {
  const std::string text =
      "a = 1\nb = 2.5\nc = \"x \\\"y\\\" \\\\ µ\\t\"\nd = [1, 2.0, \"z\"]\ne = true\nr = 3.0\n"
      "big = 1e300\n\"odd key\" = 4\n[t]\nu = -1e-7\nin = {p = 1, q = [1]}\n[t.v]\nw = []\n[[l]]\n"
      "x = 1\n[l.m]\ny = 2\n[[l]]\nx = 3\n";
  const std::string once = toml_text(toml_document(text, "a").root);
  CHECK(toml_text(toml_document(once, "b").root) == once);
  const TomlValue root = toml_document(once, "b").root;
  CHECK(root.entry("b")->value.real == 2.5);
  CHECK(root.entry("r")->value.kind == TomlKind::real);
  CHECK(root.entry("big")->value.real == 1e300);
  CHECK(root.entry("c")->value.text == "x \"y\" \\ µ\t");
  CHECK(root.entry("odd key")->value.integer == 4);
  CHECK(root.entry("t")->value.entry("u")->value.real == -1e-7);
  CHECK(root.entry("l")->value.items[0].entry("m")->value.entry("y")->value.integer == 2);
  CHECK(root.entry("l")->value.items[1].entry("x")->value.integer == 3);
}

TEST_CASE("study plan: a grid has every combination, the last key fastest", "[cases][studies]") {
  const StudyPlan plan =
      plan_of("how = \"grid\"\n" + vary("modulator.span_percent", "values = [40, 50]") +
              vary("gear.stack_length_mm", "from = 10\nto = 20\nstep = 5"));
  REQUIRE(plan.n_designs() == 6);
  std::vector<std::string> rows;
  for (int i = 0; i < 6; ++i)
    rows.push_back(plan.design(i).cells[0] + " " + plan.design(i).cells[1]);
  CHECK(rows == std::vector<std::string>{"40 10", "40 15", "40 20", "50 10", "50 15", "50 20"});
  CHECK(gear_of(plan.design(4)).sun->active_length == 0.015);
}

TEST_CASE("study plan: a list goes row by row", "[cases][studies]") {
  const StudyPlan plan =
      plan_of("how = \"list\"\n" + vary("modulator.span_percent", "values = [40, 50, 60]") +
              vary("sun.magnets.grade", "values = [\"N42\", \"N45\", \"N52\"]"));
  REQUIRE(plan.n_designs() == 3);
  CHECK(plan.design(1).cells == std::vector<std::string>{"50", "N45"});
}

TEST_CASE("study plan: numbers that move along keep their distance", "[cases][studies]") {
  const StudyPlan plan =
      plan_of("how = \"list\"\n" +
              vary("modulator.outer_radius_mm",
                   "values = [19, 20.5]\nmoves_along = [\"ring.magnets.inner_radius_mm\", "
                   "\"ring.magnets.outer_radius_mm\"]"));
  const Gear gear = gear_of(plan.design(1));
  CHECK(gear.modulator->outer_radius == Approx(0.0205));
  CHECK(gear.ring->inner_radius == Approx(0.0215));
  CHECK(gear.ring->outer_radius == Approx(0.0255));
}

TEST_CASE("study plan: a spread lies about the base case's number, or the default it takes",
          "[cases][studies]") {
  const StudyPlan plan = plan_of("designs = 200\nhow = \"latin hypercube\"\n" +
                                 vary("gear.stack_length_mm", "plus_minus = 1") +
                                 vary("gear.magnet_temperature_C", "standard_deviation = 4"));
  double length = 0.0, warm = 0.0, squares = 0.0, least = 99.0, most = 0.0;
  for (int i = 0; i < 200; ++i) {
    const Design design = plan.design(i);
    const double x = std::stod(design.cells[0]), t = std::stod(design.cells[1]);
    length += x / 200;
    least = std::min(least, x);
    most = std::max(most, x);
    warm += t / 200;
    squares += (t - 20) * (t - 20) / 200;
  }
  // Stratified: means are off by some 1/n of the spread, the square root of n less than by lot.
  CHECK(length == Approx(20.0).margin(0.002));
  CHECK(least >= 19.0);
  CHECK(least < 19.02);
  CHECK(most <= 21.0);
  CHECK(most > 20.98);
  CHECK(warm == Approx(20.0).margin(0.02));
  CHECK(std::sqrt(squares) == Approx(4.0).epsilon(0.02));
}

TEST_CASE("study plan: batches of remanence scale what the grade gives", "[cases][studies]") {
  const StudyPlan plan =
      plan_of("how = \"list\"\n" + vary("sun.magnets.remanence_percent", "values = [100, 90]"));
  const Case full = read_case_text(plan.design(0).case_text, "d", catalogue);
  const Case less = read_case_text(plan.design(1).case_text, "d", catalogue);
  const auto remanence_of = [](const Case& c) {
    return typical_remanence(c.magnets.at(c.gear.sun->magnet).material);
  };
  CHECK(remanence_of(less) == Approx(0.9 * remanence_of(full)).epsilon(1e-12));
  CHECK(less.gear.sun->magnet != less.gear.ring->magnet);  // the ring keeps its own
}

TEST_CASE("study plan: keys that lead nowhere are told before anything is computed",
          "[cases][studies]") {
  const std::string n = "designs = 4\n";
  CHECK_THAT(complaints(n + vary("modulator.span_per_cent", "from = 40\nto = 60")),
             Contains("s.toml:3:1") && Contains("vary[1].key") && Contains("span_percent"));
  CHECK_THAT(complaints(n + vary("sleeve[1].inner_radius_mm", "values = [3]")),
             Contains("which the base case does not have"));
  CHECK_THAT(complaints(n + vary("modulator", "values = [3]")), Contains("single value"));
  CHECK_THAT(complaints(n + vary("modulator.span_percent.x", "values = [3]")),
             Contains("which has no keys"));
  CHECK_THAT(complaints(n + vary("running.load_angles_deg[3]", "values = [3]")),
             Contains("has 2; items count from 1"));
  for (const char* key : {"a..b", "a.", ".a", "", "a[", "a[x]", "a[1]b", "'a", "a[1"}) {
    INFO(key);
    CHECK_THAT(complaints(n + vary(key, "values = [3]")), Contains("vary[1].key"));
  }
  CHECK_THAT(complaints(n + vary("sun.magnets.coverage_percent", "values = [140]")),
             Contains("coverage_percent"));
  CHECK_THAT(complaints(n + vary("sun.magnets.axial_gap", "plus_minus = 1")),
             Contains("no number for"));
  CHECK_THAT(complaints(n + vary("sun.magnets.grade", "standard_deviation = 1")),
             Contains("no number for"));
  CHECK_THAT(complaints(n + vary("modulator.span_percent",
                                 "values = [40]\nmoves_along = [\"sun.magnets.grade\"]")),
             Contains("is no number"));
  CHECK_THAT(complaints(n + "figures = [\"slip_torque_error_percent\"]\n" +
                        vary("modulator.span_percent", "values = [40]")),
             Contains("needs accuracy_percent"));
  CHECK(complaints(n + vary("running.load_angles_deg[2]", "from = 10\nto = 60")) == "none");
  CHECK_THAT(complaints(n + vary("modulator.span_percent", "values = [40]"), "[gear]\n"),
             Contains("c.toml"));
}

TEST_CASE("study plan: names with dots stand in quotes", "[cases][studies]") {
  std::string base = small_case;
  base.replace(base.rfind("[materials.soft]"), 16, "[materials.\"soft 1.0\"]");
  base.replace(base.find("material = \"soft\""), 17, "material = \"soft 1.0\"");
  const StudyPlan plan = plan_of(
      "how = \"list\"\n[[vary]]\nkey = 'materials.\"soft 1.0\".mu_r'\nvalues = [500, 2000]\n",
      base);
  const Case c = read_case_text(plan.design(1).case_text, "d", catalogue);
  CHECK(std::get<ConstantPermeability>(c.steels.begin()->second.material.law).mu_r == 2000.0);
}

TEST_CASE("study plan: another input, another fingerprint; the same input the same",
          "[cases][studies]") {
  const std::string one = vary("modulator.span_percent", "from = 40\nto = 60");
  const std::string usual = plan_of("designs = 20\ndesigns_per_block = 4\n" + one).input_hash(1);
  const auto hash = [&](const std::string& head, const std::string& base = small_case) {
    return plan_of(head + one, base).input_hash(1);
  };
  CHECK(hash("designs = 20\ndesigns_per_block = 4\n") == usual);
  CHECK(hash("designs = 40\ndesigns_per_block = 4\nname = \"longer\"\n") == usual);
  CHECK(hash("designs = 20\ndesigns_per_block = 4\nseed = 2\n") != usual);
  CHECK(hash("designs = 20\ndesigns_per_block = 4\nlevel = 1\n") != usual);
  CHECK(hash("designs = 20\ndesigns_per_block = 4\nfigures = [\"magnet_mass_kg\"]\n") != usual);
  CHECK(hash("designs = 20\ndesigns_per_block = 5\n") != usual);
  std::string longer = small_case;
  longer.replace(longer.find("stack_length_mm = 20"), 20, "stack_length_mm = 21");
  CHECK(hash("designs = 20\ndesigns_per_block = 4\n", longer) != usual);
}

TEST_CASE("study plan: blocks take every design once", "[cases][studies]") {
  const StudyPlan plan = plan_of("designs = 10\ndesigns_per_block = 4\n" +
                                 vary("modulator.span_percent", "from = 40\nto = 60"));
  REQUIRE(plan.n_blocks() == 3);
  CHECK(plan.block(0).first == 0);
  CHECK(plan.block(2).first == 8);
  CHECK(plan.block(2).count == 2);
  CHECK(plan.input_hash(0) != plan.input_hash(1));
  CHECK(plan.base_hash() != plan.input_hash(0));
}
