// tests/cases/broken_cases_test.cpp — what is said about case files that are wrong.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "broken_cases.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "case_texts.h"

using namespace lodegear;
using Catch::Contains;

namespace {

/// The complaint about that key at that place, or an empty one.
std::string complaint_about(const Outcome& outcome, const std::string& where,
                            const std::string& key) {
  for (const Complaint& complaint : outcome.complaints)
    if (complaint.key == key && complaint.where.rfind("case:" + where, 0) == 0)
      return to_string(complaint);
  return {};
}

/// "12:" also stands for "12:5": `where` with a colon at its end matches a whole number.
std::string place_prefix(const std::string& where) {
  const bool with_column = std::count(where.begin(), where.end(), ':') == 2;
  return with_column ? where.substr(0, where.size() - 1) : where;
}

}  // namespace

TEST_CASE("broken cases: each is told at its line, by its key, in the user's terms",
          "[cases][broken_cases]") {
  for (const BrokenCase& broken : broken_cases()) {
    const Outcome result = outcome(broken.text);
    INFO(broken.mistake << "\n" << result.message());
    CHECK_FALSE(result.read.has_value());
    CHECK(result.complaints.size() == broken.count);
    const std::string told = complaint_about(result, place_prefix(broken.where), broken.key);
    CHECK(told != "");
    for (const std::string& piece : broken.pieces) CHECK_THAT(told, Contains(piece));
  }
}

TEST_CASE("broken cases: there are at least sixty", "[cases][broken_cases]") {
  CHECK(broken_cases().size() >= 60);
}

TEST_CASE("broken cases: several mistakes are told at once, in the order of the file",
          "[cases][broken_cases]") {
  std::string text = with_line(short_case, 20, "pattern = \"halbch\"");
  text = with_line(text, 2, "sun_pole_pairs = 4.5");
  text = with_line(text, 13, "material = \"M470-50B\"");
  text = with_line(text, 10, "inner_radius_mm = -24");
  const Outcome result = outcome(text);
  INFO(result.message());
  REQUIRE(result.complaints.size() == 4);
  CHECK_THAT(result.complaints[0].where, Catch::StartsWith("case:2:"));
  CHECK_THAT(result.complaints[1].where, Catch::StartsWith("case:10:"));
  CHECK_THAT(result.complaints[2].where, Catch::StartsWith("case:13:"));
  CHECK_THAT(result.complaints[3].where, Catch::StartsWith("case:20:"));
}

TEST_CASE("broken cases: unknown materials and impossible geometry are told together",
          "[cases][broken_cases]") {
  std::string text = with_line(short_case, 9, "grade = \"N43\"");
  text = with_line(text, 15, "outer_radius_mm = 38.5");
  const Outcome result = outcome(text);
  INFO(result.message());
  REQUIRE(result.complaints.size() == 2);
  CHECK(result.complaints[0].key == "sun.magnets.grade");
  CHECK(result.complaints[1].key == "modulator.outer_radius_mm");
}

TEST_CASE("broken cases: a file that is not there, or no file, is told in a sentence",
          "[cases][broken_cases]") {
  CHECK_THROWS_WITH(read_case("no_such_case.toml"), Contains("no_such_case.toml"));
  CHECK_THROWS_AS(read_case(LODEGEAR_SOURCE_DIR), InputError);
}
