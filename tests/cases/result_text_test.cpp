// tests/cases/result_text_test.cpp — what a person reads on the screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <sstream>

#include "cases/figures.h"
#include "cases/slip_chart.h"
#include "cases/summary_text.h"
#include "cases/text_table.h"
#include "result_of_tests.h"

using namespace lodegear;
using Catch::Contains;

TEST_CASE("summary: says gear, ratios, slip torque and cautions", "[cases][result]") {
  const std::string text = summary_text(small_result());
  CHECK_THAT(text, Contains("magnetic gear 2/5/3"));
  CHECK_THAT(text, Contains("sun turns 2.5 times per turn of the modulator"));
  CHECK_THAT(text, Contains("the opposite way"));
  CHECK_THAT(text, Contains("2D; short stacks deliver less"));
  CHECK_THAT(text, Contains("never for hoisting"));
  CHECK_THAT(text, Contains("magnetic gap 1 mm"));
}

TEST_CASE("summary: no line is wider than a screen of 100", "[cases][result]") {
  std::istringstream lines(summary_text(small_result()));
  for (std::string line; std::getline(lines, line);) CHECK(width_of(line) <= 100);
}

TEST_CASE("summary: a hole is told before anything else", "[cases][result]") {
  const CaseResult result = result_with_hole();
  const std::string text = summary_text(result);
  CHECK_THAT(text, Contains("ATTENTION: 1 of "));
  CHECK(text.find("ATTENTION") < text.find("Speed ratio"));
  CHECK_THAT(text, !Contains("Slip torque"));
  CHECK(verdict(result).exit_code == 3);
}

TEST_CASE("verdict: a peak that was not reached is not sure", "[cases][result]") {
  CaseResult result = small_result();
  CHECK(verdict(result).exit_code == 0);
  result.slip_torque->peak_reached = false;
  CHECK(verdict(result).exit_code == 5);
  CHECK_THAT(verdict(result).text, Contains("last_load_angle_deg"));
}

TEST_CASE("text table: columns line up by characters, not bytes", "[cases][result]") {
  CHECK(text_table({{"a", "N·m"}, {"bcd", "Nm"}}, 1, true) == " a    N·m\n bcd   Nm\n");
  CHECK(text_table({{"a", "µ"}, {"b"}}, 0, false) == "a  µ\nb\n");
}

TEST_CASE("wrapped: lines break at spaces and hang under the first word", "[cases][result]") {
  CHECK(wrapped("one two three", "- ", 9) == "- one two\n  three\n");
  CHECK(wrapped("unbreakable", "", 3) == "unbreakable\n");
}

TEST_CASE("significant: digits as wanted and no exponent in the usual range", "[cases][result]") {
  CHECK(significant(12.3456, 4) == "12.35");
  CHECK(significant(0.00123456, 4) == "0.001235");
  CHECK(significant(123456.0, 4) == "123456");
  CHECK(significant(0.0, 4) == "0");
  CHECK(significant(-2.0, 2) == "-2.0");
}

TEST_CASE("slip chart: the modulator rises to the top row, and a missing position leaves a hole",
          "[cases][result]") {
  const std::string chart = slip_curve_chart(small_result());
  CHECK(std::count(chart.begin(), chart.end(), '\n') == 1 + 17 + 1);
  const std::size_t top = chart.find('\n') + 1;
  CHECK(chart.substr(top, chart.find('\n', top) - top).find('m') != std::string::npos);
  const auto letters = [](const std::string& text) {
    return std::count(text.begin(), text.end(), 'm');
  };
  CHECK(letters(slip_curve_chart(result_with_hole())) < letters(chart));
  CHECK(slip_curve_chart(CaseResult()).empty());
}
