// tests/cases/studies/tolerance_test.cpp — spreads by lot against what small spreads must give.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "cases/read_case.h"
#include "cases/studies/magnet_lots.h"
#include "cases/studies/read_study.h"
#include "cases/studies/statistics.h"
#include "cases/studies/study_plan.h"
#include "materials/constants.h"
#include "tests/support/small_case.h"

using namespace lodegear;

namespace {

const Catalogue catalogue;

StudyPlan plan_of(const std::string& text) {
  return {read_study_text(
              "case = \"c.toml\"\nlevel = 0\nfigures = [\"slip_torque_modulator_Nm\"]\n" + text,
              "s.toml"),
          small_case, "c.toml", catalogue};
}

/// Slip torque on the modulator of every design, N·m.
std::vector<double> slip_torques(const StudyPlan& plan) {
  std::vector<double> all;
  for (int i = 0; i < plan.n_designs(); ++i) {
    const DesignOutcome outcome = run_design(plan.design(i).case_text, plan.task(), catalogue, {});
    INFO(outcome.remark);
    REQUIRE(outcome.state == DesignState::good);
    all.push_back(*outcome.figures.front());
  }
  return all;
}

std::string vary(const std::string& key, const std::string& how) {
  return "[[vary]]\nkey = \"" + key + "\"\n" + how + "\n";
}

}  // namespace

TEST_CASE("magnets by lot: as many are weak, turned and reversed as was said", "[cases][studies]") {
  MagnetLot lot;
  lot.strength_deviation = 0.02;
  lot.turned_deviation = 1.5 * pi / 180;
  lot.weak_chance = 0.10;
  lot.weak_strength = 0.7;
  lot.reversed_chance = 0.05;
  std::vector<double> strong, turned;
  int weak = 0, reversed = 0;
  constexpr int designs = 200, magnets = 20, n = designs * magnets;
  for (int design = 0; design < designs; ++design)
    for (const DrawnMagnet& magnet : drawn_magnets(lot, magnets, 4, design)) {
      weak += magnet.weak;
      reversed += magnet.reversed;
      turned.push_back(magnet.turned);
      strong.push_back(magnet.strength / (magnet.weak ? 0.7 : 1.0));
    }
  // Four standard errors: of a chance p √(p(1−p)/n), of a mean σ/√n, of a deviation σ/√(2n).
  CHECK(weak == Approx(0.10 * n).margin(4 * std::sqrt(0.10 * 0.90 * n)));
  CHECK(reversed == Approx(0.05 * n).margin(4 * std::sqrt(0.05 * 0.95 * n)));
  CHECK(spreading(strong)->mean == Approx(1.0).margin(4 * 0.02 / std::sqrt(n)));
  CHECK(*spreading(strong)->deviation == Approx(0.02).margin(4 * 0.02 / std::sqrt(2.0 * n)));
  CHECK(*spreading(turned)->deviation ==
        Approx(lot.turned_deviation).margin(4 * lot.turned_deviation / std::sqrt(2.0 * n)));
}

TEST_CASE("magnets by lot: another chance of one kind leaves the others as they were",
          "[cases][studies]") {
  MagnetLot lot;
  lot.strength_deviation = 0.02;
  const auto before = drawn_magnets(lot, 8, 1, 3);
  lot.reversed_chance = 0.5;
  const auto after = drawn_magnets(lot, 8, 1, 3);
  for (std::size_t i = 0; i < 8; ++i) CHECK(after[i].strength == before[i].strength);
  CHECK(drawn_magnets(lot, 8, 1, 4).front().strength != before.front().strength);
  lot.member = Member::ring;
  CHECK(drawn_magnets(lot, 8, 1, 3).front().strength != before.front().strength);
}

TEST_CASE("magnets by lot: a case file is told each of them", "[cases][studies]") {
  const StudyPlan plan = plan_of(
      "designs = 3\n[[magnets]]\nmember = \"sun\"\nstrength_deviation_percent = "
      "5\nturned_deviation_deg = 2\nreversed_chance_percent = 30\n");
  CHECK(plan.columns() == std::vector<std::string>{"sun_magnets_mean_strength_percent",
                                                   "sun_magnets_turned_rms_deg", "sun_magnets_weak",
                                                   "sun_magnets_reversed"});
  for (int i = 0; i < 3; ++i) {
    const Design design = plan.design(i);
    const Gear gear = read_case_text(design.case_text, "d", catalogue).gear;
    REQUIRE(gear.sun->odd_magnets.size() == 4);
    const auto drawn = drawn_magnets(plan.study().lots.front(), 4, plan.study().seed, i);
    int reversed = 0;
    for (std::size_t j = 0; j < 4; ++j) {
      const OddMagnet& odd = gear.sun->odd_magnets[j];
      CHECK(odd.index == static_cast<int>(j));
      CHECK(std::abs(odd.strength) == Approx(drawn[j].strength).epsilon(1e-14));
      CHECK((odd.strength < 0) == drawn[j].reversed);
      CHECK(odd.turned == Approx(drawn[j].turned).epsilon(1e-14));
      reversed += drawn[j].reversed;
    }
    CHECK(design.cells[3] == std::to_string(reversed));
  }
}

TEST_CASE("tolerances: of two batches of magnets the spread is that of a product",
          "[cases][studies][slow]") {
  // Steel and magnets of this gear are linear, so torque goes as Br_sun Br_ring but for the cogging
  // of each rotor by itself, below a hundredth of it here: δT/T = √(1² + 2²) %, in shares 1 : 4.
  const StudyPlan plan =
      plan_of("designs = 100\nhow = \"latin hypercube\"\n" +
              vary("sun.magnets.remanence_percent", "about = 100\nstandard_deviation = 1") +
              vary("ring.magnets.remanence_percent", "about = 100\nstandard_deviation = 2"));
  const std::vector<double> torque = slip_torques(plan);
  std::vector<std::vector<double>> batches(2);
  for (int i = 0; i < 100; ++i)
    for (std::size_t j = 0; j < 2; ++j) batches[j].push_back(std::stod(plan.design(i).cells[j]));
  const DesignOutcome base = run_design(plan.base_design().case_text, plan.task(), catalogue, {});
  const Spreading s = *spreading(torque);
  CHECK(s.mean == Approx(*base.figures.front()).epsilon(0.001));
  // A sample of 100 has chance correlations of some 0.1 between the batches: 4 % of the variance.
  CHECK(*s.deviation / s.mean == Approx(0.01 * std::sqrt(5.0)).epsilon(0.06));
  const Regression r = *standardised_regression(batches, torque);
  CHECK(r.r_squared > 0.999);
  CHECK(r.coefficients[1] / r.coefficients[0] == Approx(2.0).epsilon(0.05));
}

TEST_CASE("tolerances: mean and spread are those of linear propagation for small tolerances",
          "[cases][studies][slow]") {
  // Gauss: σ_T² = Σ (∂T/∂x)² σ_x², by difference quotients; handbook formula (JCGM 100:2008, 5.1).
  struct Key {
    std::string name;
    double base, deviation;
  };
  const std::vector<Key> keys = {{"sun.magnets.outer_radius_mm", 14.0, 0.02},
                                 {"ring.magnets.inner_radius_mm", 20.0, 0.02},
                                 {"modulator.span_percent", 45.0, 0.3},
                                 {"gear.magnet_temperature_C", 40.0, 5.0}};
  std::string list = "how = \"list\"\n", lot = "how = \"latin hypercube\"\ndesigns = 120\n";
  for (std::size_t k = 0; k < keys.size(); ++k) {
    std::string values;
    for (std::size_t j = 0; j < keys.size(); ++j)
      for (const double side : {1.0, -1.0})
        values += std::to_string(keys[k].base + (j == k ? side * keys[k].deviation : 0.0)) + ", ";
    list += vary(keys[k].name, "values = [" + values + std::to_string(keys[k].base) + "]");
    lot += vary(keys[k].name, "about = " + std::to_string(keys[k].base) +
                                  "\nstandard_deviation = " + std::to_string(keys[k].deviation));
  }
  const std::vector<double> differences = slip_torques(plan_of(list));
  double variance = 0.0;
  for (std::size_t k = 0; k < keys.size(); ++k)
    variance += std::pow((differences[2 * k] - differences[2 * k + 1]) / 2, 2);
  const Spreading s = *spreading(slip_torques(plan_of(lot)));
  // The mean: curvature moves it by some hundredths of the deviation. The deviation: chance
  // correlations of a sample of 120 between four keys, and 1/√(2 n) of what is not stratified.
  CHECK(s.mean == Approx(differences.back()).margin(0.1 * std::sqrt(variance)));
  CHECK(*s.deviation == Approx(std::sqrt(variance)).epsilon(0.10));
  // Of a normal distribution 5 % lie below the mean less 1.645 deviations.
  CHECK(s.p5 == Approx(s.mean - 1.645 * *s.deviation).margin(0.3 * *s.deviation));
  CHECK(s.p95 == Approx(s.mean + 1.645 * *s.deviation).margin(0.3 * *s.deviation));
}

TEST_CASE("tolerances: single magnets average out, a reversed one does not",
          "[cases][studies][slow]") {
  const auto spread_of = [](const std::string& how) {
    return *spreading(slip_torques(
        plan_of("designs = 40\nhow = \"random\"\n[[magnets]]\nmember = \"ring\"\n" + how)));
  };
  const DesignOutcome base =
      run_design(small_case,
                 plan_of("designs = 1\n[[magnets]]\nmember = \"ring\"\nweak_chance_percent "
                         "= 1\n")
                     .task(),
                 catalogue, {});
  const double sound = *base.figures.front();
  // Six magnets of 4 % each: 4 %/√6 in the mean of them, with which the torque goes; 40 designs
  // tell a deviation to 11 %, of which three are allowed; which magnet it is moves it a little.
  const Spreading each = spread_of("strength_deviation_percent = 4\n");
  CHECK(*each.deviation / sound == Approx(0.04 / std::sqrt(6.0)).epsilon(0.4));
  CHECK(each.mean == Approx(sound).epsilon(0.015));
  const Spreading wrong = spread_of("reversed_chance_percent = 100\n");
  // All of them the wrong way round are a rotor turned by one pole: the same torque.
  CHECK(wrong.smallest == Approx(sound).epsilon(1e-3));
  const Spreading some = spread_of("reversed_chance_percent = 15\n");
  CHECK(some.smallest < 0.8 * sound);
  CHECK(some.largest < 1.05 * sound);
}
