// tests/tools/draw_test.cpp — `lodegear draw` from outside: files, refusals, nothing half-done.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "program.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;

TEST_CASE("draw: a small case gives its files and a list of them, twice the same bytes",
          "[tools][draw]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const Outcome run = program("draw --no-field " + file + " --out " + (scratch / "d"));
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("lamination.dxf"));
  const auto list = nlohmann::json::parse(text_of_file(scratch / "d/drawings.json"));
  CHECK(list["case"]["name"] == "small");
  for (const auto& [name, sum] : list["files"].items())
    CHECK_THAT(shell("sha256sum " + (scratch / ("d/" + name))).out,
               Contains(sum.get<std::string>()));
  REQUIRE(program("draw --no-field " + file + " --out " + (scratch / "e")).exit_code == 0);
  CHECK(shell("diff -r " + (scratch / "d") + " " + (scratch / "e")).exit_code == 0);
  CHECK(program("draw --no-field " + file + " --out " + (scratch / "d")).exit_code == 0);  // again
}

TEST_CASE("draw: what was edited, or is not ours, is not overwritten without --force",
          "[tools][draw]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const std::string command = "draw --no-field " + file + " --out " + (scratch / "d");
  REQUIRE(program(command).exit_code == 0);
  scratch.file("d/lamination.dxf", "mine");
  const Outcome edited = program(command);
  CHECK(edited.exit_code == 4);
  CHECK_THAT(edited.err, Contains("\"lamination.dxf\" was edited"));
  CHECK(text_of_file(scratch / "d/lamination.dxf") == "mine");
  CHECK(program(command + " --force").exit_code == 0);
  CHECK(text_of_file(scratch / "d/lamination.dxf") != "mine");
  scratch.file("d/notes.txt", "mine too");
  const Outcome strange = program(command);
  CHECK(strange.exit_code == 4);
  CHECK_THAT(strange.err, Contains("not ours (\"notes.txt\")"));
  CHECK(program(command + " --force").exit_code == 0);
  CHECK(text_of_file(scratch / "d/notes.txt") == "mine too");
}

TEST_CASE("draw: a wrong option is told with what would be right", "[tools][draw]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const Outcome run =
      program("draw --no-field " + file + " --out " + (scratch / "d") + " --kerf-mm -1");
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("--kerf-mm: is -1; it must be between 0 and 5 mm."));
  const Outcome fit =
      program("draw --no-field " + file + " --out " + (scratch / "d") + " --fit-mm 4.9");
  CHECK(fit.exit_code == 2);
  CHECK_THAT(fit.err, Contains("--fit-mm: is too large"));
  const Outcome sheet =
      program("draw --no-field " + file + " --out " + (scratch / "d") + " --sheet-mm 300");
  CHECK(sheet.exit_code == 2);
  CHECK_THAT(sheet.err, Contains("write it as LENGTHxWIDTH, as 300x200"));
  CHECK(!std::filesystem::exists(scratch / "d"));
}

TEST_CASE("draw: the bench sheet tells what hangs on the arm at slip", "[tools][draw][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const Outcome run = program("draw " + file + " --out " + (scratch / "d") + " --arm-mm 200");
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  const std::string sheet = text_of_file(scratch / "d/bench_sheet.txt");
  CHECK_THAT(sheet, Contains("arm of 200 mm"));
  CHECK_THAT(sheet, Contains("Held ring, input sun, output modulator"));
  CHECK_THAT(sheet, Contains("inner gap"));
}

TEST_CASE("draw: a rotor alone gets its drawings and is told why there is no bench sheet",
          "[tools][draw]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", R"(name = "alone"
[gear]
sun_pole_pairs = 2
stack_length_mm = 20
[sun.magnets]
grade = "N42"
inner_radius_mm = 10
outer_radius_mm = 14
[[sun.odd_magnet]]
index = 1
missing = true
)");
  const Outcome run = program("draw " + file + " --out " + (scratch / "d"));
  INFO(run.err);
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("No bench sheet"));
  CHECK(!std::filesystem::exists(scratch / "d/lamination.dxf"));
  CHECK_THAT(text_of_file(scratch / "d/placement.txt"), Contains("Magnet 2 is given as missing"));
  CHECK_THAT(text_of_file(scratch / "d/parts.csv"), Contains("north out\",N42,2,"));
}
