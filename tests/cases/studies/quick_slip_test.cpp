// tests/cases/studies/quick_slip_test.cpp — five positions about the peak against whole curves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/quick_slip.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "cases/studies/design_run.h"
#include "materials/constants.h"
#include "tests/support/small_case.h"
#include "tests/support/varied_gears.h"

using namespace lodegear;

namespace {

const Catalogue catalogue;

std::array<double, 5> values_of(double shift, double third_harmonic) {
  std::array<double, 5> values{};
  for (int i = 0; i < 5; ++i) {
    const double angle = pi / 2 + (i - 2 - shift) * pi / 12;
    values[static_cast<std::size_t>(i)] = std::sin(angle) + third_harmonic * std::sin(3 * angle);
  }
  return values;
}

DesignOutcome outcome(const std::string& case_text, bool whole_curves) {
  DesignTask task;
  task.figures = {"slip_torque_modulator_Nm"};
  task.level = 0.0;
  task.whole_curves = whole_curves;
  return run_design(case_text, task, catalogue, {});
}

double slip_torque(const std::string& case_text, bool whole_curves) {
  const DesignOutcome found = outcome(case_text, whole_curves);
  INFO(found.remark);
  REQUIRE(found.state == DesignState::good);
  return *found.figures.front();
}

}  // namespace

TEST_CASE("top of five: a sine's top is found wherever it lies between the values",
          "[cases][studies]") {
  for (const double shift : {-1.2, -0.7, -0.3, 0.0, 0.4, 0.9, 1.3}) {
    const auto top = top_of_five(values_of(shift, 0.0));
    INFO(shift);
    REQUIRE(top);
    // The first derivative that a quartic misses: h⁵/5! of cos, h = 15° twice at most, and the
    // product of the distances, below 4: 4 · 0.26⁵/120.
    CHECK(top->value == Approx(1.0).margin(4e-5));
    CHECK(top->at == Approx(shift).margin(0.01));
    CHECK(top->open < 1e-12);
  }
  const auto flat = top_of_five(values_of(0.0, -0.05));  // a curve that saturation flattened
  CHECK(flat->value == Approx(1.05).margin(1e-9));       // at 90° exactly
  CHECK(flat->open < most_open);
}

TEST_CASE("top of five: a curve that rises to its end has none", "[cases][studies]") {
  CHECK_FALSE(top_of_five({1, 2, 3, 4, 5}));
  CHECK_FALSE(top_of_five({5, 4, 3, 2, 1}));
  CHECK_FALSE(top_of_five({1, 1, 1, 1, 1}));
}

TEST_CASE("top of five: strong cogging is what a sine leaves", "[cases][studies]") {
  std::array<double, 5> bumpy = values_of(0.2, 0.0);
  bumpy[1] += 0.03;
  bumpy[3] -= 0.03;
  const auto top = top_of_five(bumpy);
  REQUIRE(top);
  CHECK(top->open > most_open);
}

TEST_CASE("quick slip: on gears by lot five positions give the peak of the whole curve",
          "[cases][studies][slow]") {
  // A whole curve is known to 0.2 % where its own positions leave that open; five to `most_open`.
  int compared = 0, close = 0;
  for (int number = 0; number < 8; ++number) {
    const std::string text = varied_gear(77, number);
    const DesignOutcome quick = outcome(text, false), whole = outcome(text, true);
    if (whole.state == DesignState::failed) continue;  // a position of its curve has no solution
    INFO(text);
    REQUIRE(quick.state == DesignState::good);
    const double off = *quick.figures.front() / *whole.figures.front() - 1.0;
    CHECK(std::abs(off) < most_open);
    ++compared;
    close += std::abs(off) < 1e-3;
  }
  CHECK(compared >= 5);
  CHECK(close >= compared - 1);
}

TEST_CASE("quick slip: with odd magnets both directions are looked at", "[cases][studies][slow]") {
  std::string text = small_case;
  text += "[[ring.odd_magnet]]\nindex = 1\nstrength_percent = 60\n";
  CHECK(slip_torque(text, false) == Approx(slip_torque(text, true)).epsilon(most_open));
}

TEST_CASE("design: the same text gives the same bits, whatever was solved before",
          "[cases][studies][slow]") {
  const double first = slip_torque(small_case, false);
  slip_torque(varied_gear(77, 1), false);
  CHECK(slip_torque(small_case, false) == first);
}
