// tests/cases/studies/search/search_problem_test.cpp — goals, limits and values of a search's
// study. SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/search_problem.h"

#include <catch2/catch.hpp>

#include "cases/studies/read_study.h"
#include "cases/studies/varied_values.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;

namespace {

constexpr const char* search = R"(case = "small.toml"
how = "optimise"
designs = 50
[best]
maximise = "slip_torque_modulator_Nm"
[[best.limit]]
figure = "magnet_mass_kg"
at_most = 0.2
[[best.limit]]
figure = "outer_clearance_mm"
at_least = 0.95
[[vary]]
key = "modulator.span_percent"
from = 30
to = 60
[[vary]]
key = "modulator.outer_radius_mm"
from = 18
to = 20.5
step = 0.1
[[vary]]
key = "ring.magnets.outer_radius_mm"
values = [22, 23, 24]
[[vary]]
key = "ring.magnets.grade"
values = ["N42", "N45"]
)";

const Catalogue& catalogue() {
  static const Catalogue known;
  return known;
}

StudyPlan plan_of(const std::string& text) {
  return {read_study_text(text, "s.toml"), small_case, "small.toml", catalogue()};
}

std::string complaints(const std::string& text) try {
  (void)read_study_text(text, "s.toml");
  return "none";
} catch (const InputError& error) {
  return error.what();
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

}  // namespace

TEST_CASE("search of a study: lists are choices, many steps and ranges are continuous",
          "[cases][search]") {
  const SearchSpace space = search_space(plan_of(search).study());
  REQUIRE(space.size() == 4);
  CHECK((space[0].choices == 0 && space[1].choices == 0));
  CHECK((space[2].choices == 3 && space[2].ordered));
  CHECK((space[3].choices == 2 && !space[3].ordered));
}

TEST_CASE("search of a study: values are readable decimals and keep to steps", "[cases][search]") {
  const StudyPlan plan = plan_of(search);
  const auto values = values_at(plan.study(), {0.123456789, 0.5, 2.0, 1.0});
  CHECK(number_of(values[0]) == 33.7037);  // 30 + 30 · 0.123456789, to a ten-thousandth
  CHECK(number_of(values[1]) == Approx(19.3).margin(1e-9));  // 19.25 lies between two steps
  CHECK(number_of(values[2]) == 24);
  CHECK(values[3].text == "N45");
  for (const double u : {0.0, 1.0}) {
    const auto ends = values_at(plan.study(), {u, u, 0.0, 0.0});
    CHECK(number_of(ends[0]) == (u == 0.0 ? 30 : 60));
    CHECK(number_of(ends[1]) == Approx(u == 0.0 ? 18 : 20.5));
  }
}

TEST_CASE("search of a study: the base case is a point of it if its values can be chosen",
          "[cases][search]") {
  const auto point = base_point(plan_of(search));  // 50 %, 19 mm, 24 mm, N42
  REQUIRE(point);
  CHECK((*point)[0] == Approx(2.0 / 3));
  CHECK((*point)[1] == Approx(0.4));
  CHECK(((*point)[2] == 2 && (*point)[3] == 0));
  CHECK_FALSE(base_point(plan_of(replaced(search, "[22, 23, 24]", "[22, 23]"))));
}

TEST_CASE(
    "search of a study: goals are parts of the base case's figure, limits parts of themselves",
    "[cases][search]") {
  const StudyPlan plan = plan_of(search);
  const auto& figures = plan.task().figures;
  const auto with = [&](double torque, double mass, double clearance) {
    DesignOutcome outcome{DesignState::good, {}, {}};
    for (const std::string& name : figures)
      outcome.figures.push_back(name == "slip_torque_modulator_Nm" ? torque
                                : name == "magnet_mass_kg"         ? mass
                                                                   : clearance);
    return outcome;
  };
  const Scales scales(plan, with(2.0, 0.1, 1.0));
  const PointValue good = scales.value(with(3.0, 0.15, 1.0), 1.0);
  CHECK(good.goals.front() == Approx(-1.5));
  CHECK(distance_to_allowed(good) == 0.0);
  const PointValue heavy = scales.value(with(9.0, 0.25, 0.855), 1.0);
  CHECK(heavy.misses[0] == Approx(0.25));
  CHECK(heavy.misses[1] == Approx(0.1));
  CHECK(merit(heavy) > merit(good));
  // The last digits of masses and clearances are noise: no reason to prefer one or to leave it out.
  const PointValue noisy = scales.value(with(3.0, 0.2 + 1e-15, 0.95 - 1e-15), 1.0);
  CHECK(distance_to_allowed(noisy) == 0.0);
  CHECK_FALSE(dominates(scales.value(with(3.0, 0.2, 0.95), 1.0), noisy));
  DesignOutcome failed = with(9.0, 0.1, 1.0);
  failed.state = DesignState::failed;
  CHECK(merit(scales.value(failed, 1.2)) > merit(scales.value(failed, 1.1)));
  CHECK(merit(scales.value(failed, 1.1)) > merit(heavy));
  DesignOutcome unknown = with(9.0, 0.1, 1.0);
  for (auto& figure : unknown.figures) figure.reset();
  CHECK(scales.value(unknown, 1.0).not_built > 0.0);
}

TEST_CASE("search of a study: a clearance far too small is seen without solving",
          "[cases][search]") {
  const StudyPlan plan = plan_of(search);
  const auto glance = [&](double radius) {
    const auto u = (radius - 18) / 2.5;
    return first_glance(plan, plan.design_of(values_at(plan.study(), {0.5, u, 2.0, 0.0})),
                        catalogue());
  };
  CHECK_FALSE(glance(19).outcome);    // 1 mm to the ring's magnets at 20 mm
  CHECK_FALSE(glance(19.1).outcome);  // 5 % off: shows the way
  const FirstGlance thin = glance(19.5);
  REQUIRE(thin.outcome);
  CHECK_THAT(thin.outcome->remark,
             Contains("Not solved: outer_clearance_mm is 0.5000, wanted at least 0.95"));
  const FirstGlance overlap = glance(20.2);
  REQUIRE(overlap.outcome);
  CHECK(overlap.off > 1.0);
  CHECK_THAT(overlap.outcome->remark, Contains("modulator.outer_radius_mm"));
}

TEST_CASE("search of a study: a study file is told what a search needs", "[cases][search]") {
  CHECK(complaints(search) == "none");
  CHECK_THAT(
      complaints("case = \"c\"\nhow = \"optimise\"\ndesigns = 9\n[[vary]]\nkey = \"a\"\nfrom = "
                 "1\nto = 2\n"),
      Contains("best: is missing; a search needs to know its goal"));
  CHECK_THAT(complaints(replaced(search, "optimise", "trade-off")), Contains("tells 1 goal;"));
  CHECK_THAT(complaints(replaced(search, "designs = 50", "designs = 50\ndesigns_per_block = 2")),
             Contains("designs_per_block"));
  CHECK_THAT(complaints(replaced(search, "from = 30\nto = 60", "standard_deviation = 2")),
             Contains("has no meaning in a search"));
  CHECK_THAT(
      complaints(std::string(search) + "[[magnets]]\nmember = \"sun\"\nweak_chance_percent = 1\n"),
      Contains("no design is better than another by itself"));
  CHECK_THAT(complaints(replaced(replaced(search, "optimise", "trade-off"),
                                 "maximise = \"slip_torque_modulator_Nm\"",
                                 "maximise = [\"slip_torque_modulator_Nm\", \"magnet_mas_kg\"]")),
             Contains("Did you mean \"magnet_mass_kg\"?"));
}
