// tests/tools/sweep_test.cpp — `lodegear sweep` from outside: files, exit codes, nothing half-done.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "program.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;
using Catch::StartsWith;

namespace {

std::string changed(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

}  // namespace

TEST_CASE("sweep: a small case gives all files, a summary and exit code 0", "[tools][sweep]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const Outcome run = program("sweep " + file + " --out " + (scratch / "r"));
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, StartsWith("small: magnetic gear 2/5/3"));
  CHECK_THAT(run.out, Contains("Written to " + (scratch / "r")));
  CHECK(run.err.empty());  // short work leaves no line in a log
  CHECK(scratch.n_entries() == 1 + 1 + 5);
  CHECK_THAT(text_of_file(scratch / "r/slip_curve.csv"),
             StartsWith("load_angle_deg,sun_angle_deg,modulator_angle_deg,ring_angle_deg,"
                        "torque_sun_Nm,torque_modulator_Nm,torque_ring_Nm,"));
  const auto json = nlohmann::json::parse(text_of_file(scratch / "r/summary.json"));
  CHECK(json["case"]["name"] == "small");
  CHECK(shell("h5dump -d /slip_curve/torque " + (scratch / "r/result.h5")).exit_code == 0);
  CHECK(shell("cmp " + file + " " + (scratch / "r/case.toml")).exit_code == 0);
}

TEST_CASE("sweep: one thread or two, today or tomorrow: the same bytes", "[tools][sweep][slow]") {
  const Scratch scratch;
  // Pole pieces that saturate, so that every position is an iteration with a history; every field
  // kept, so that nothing hides.
  std::string text = changed(small_case, "mu_r = 1000", "exponential_law = [0.05, 6.0, 150.0]");
  text = changed(text, "positions_per_period = 40", "positions_per_period = 12");
  text = changed(text, "[0, 30]", "[0]") + "[output]\nkeep_fields = \"every position\"\n";
  const std::string file = scratch.file("case.toml", text);
  const Outcome one = program("sweep " + file + " --threads 1 --out " + (scratch / "one"));
  INFO(one.err);
  REQUIRE(one.exit_code == 0);
  REQUIRE(program("sweep " + file + " --threads 2 --out " + (scratch / "two")).exit_code == 0);
  CHECK(shell("diff -r " + (scratch / "one") + " " + (scratch / "two")).exit_code == 0);
}

TEST_CASE("sweep: a wrong file is told in full, with exit code 2 and nothing written",
          "[tools][sweep]") {
  const Scratch scratch;
  std::string text = changed(small_case, "stack_length_mm = 20", "stack_length_mm = -20");
  text = changed(text, "span_percent", "span_per_cent");
  const std::string file = scratch.file("case.toml", text);
  const Outcome run = program("sweep " + file + " --out " + (scratch / "r"));
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains(file + ":7:"));
  CHECK_THAT(run.err, Contains("span_percent"));
  CHECK_THAT(run.err, Contains("2 mistakes"));
  CHECK(run.out.empty());
  CHECK(scratch.n_entries() == 1);
}

TEST_CASE("sweep: a file that is not there", "[tools][sweep]") {
  const Scratch scratch;
  const Outcome run = program("sweep " + (scratch / "none.toml") + " --out " + (scratch / "r"));
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("there is no such file"));
  CHECK(scratch.n_entries() == 0);
}

TEST_CASE("sweep: a place that cannot be written to is told before the work", "[tools][sweep]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const std::string in_the_way = scratch.file("r", "a file");
  const Outcome run = program("sweep " + file + " --out " + in_the_way);
  CHECK(run.exit_code == 4);
  CHECK_THAT(run.err, Contains(in_the_way));
  CHECK(text_of_file(in_the_way) == "a file");
  CHECK(program("sweep " + file + " --out " + in_the_way + "/deeper").exit_code == 4);
  CHECK(program("sweep " + file + " --out /proc/lodegear").exit_code == 4);
  CHECK(scratch.n_entries() == 2);
}

TEST_CASE("sweep: a folder with something else is refused, unless forced", "[tools][sweep]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  std::filesystem::create_directory(scratch / "r");
  scratch.file("r/letter.txt", "dear");
  const Outcome refused = program("sweep " + file + " --out " + (scratch / "r"));
  CHECK(refused.exit_code == 4);
  CHECK_THAT(refused.err, Contains("letter.txt") && Contains("--force"));
  CHECK(program("sweep " + file + " --force --out " + (scratch / "r")).exit_code == 0);
  CHECK(text_of_file(scratch / "r/letter.txt") == "dear");
}

TEST_CASE("sweep: a curve that stops before the peak is unsure, exit code 5", "[tools][sweep]") {
  const Scratch scratch;
  const std::string text =
      changed(small_case, "positions_per_period = 40",
              "positions_per_period = 8\nlast_load_angle_deg = 90\nturned = \"sun\"");
  const Outcome run =
      program("sweep " + scratch.file("case.toml", text) + " --out " + (scratch / "r"));
  CHECK(run.exit_code == 5);
  CHECK_THAT(run.out, Contains("ATTENTION") && Contains("last_load_angle_deg"));
}

TEST_CASE("sweep: Ctrl-C stops, says so and leaves nothing", "[tools][sweep][slow]") {
  const Scratch scratch;
  const std::string text =
      changed(small_case, "positions_per_period = 40", "positions_per_period = 100000");
  // A shell starts background work with Ctrl-C ignored; `env` with the default puts that right.
  const Outcome run = shell("env --default-signal=INT " LODEGEAR_PROGRAM " sweep " +
                            scratch.file("case.toml", text) + " --out " + (scratch / "r") +
                            " & p=$!; sleep 2; kill -INT $p; wait $p");
  CHECK(run.exit_code == 130);
  CHECK_THAT(run.err, Contains("Stopped"));
  CHECK(scratch.n_entries() == 1);
}
