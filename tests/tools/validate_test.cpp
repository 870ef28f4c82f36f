// tests/tools/validate_test.cpp — `lodegear validate` from outside: verdict, files, exit codes.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "program.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;

TEST_CASE("validate: its files lie beside those of the same case's sweep, none of another's",
          "[tools][validate][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const std::string into = " --quiet --out " + (scratch / "r");
  const Outcome run = program("validate " + file + into);
  INFO(run.err);
  REQUIRE((run.exit_code == 0 || run.exit_code == 1 || run.exit_code == 5));
  CHECK_THAT(run.out, Contains("Verdict:") && Contains("validation.json"));
  const auto json = nlohmann::json::parse(text_of_file(scratch / "r/validation.json"));
  CHECK(json["verdict"]["exit_code"] == run.exit_code);
  CHECK(scratch.n_entries() == 1 + 1 + 8);
  CHECK(program("sweep " + file + into).exit_code == 0);
  CHECK(scratch.n_entries() == 1 + 1 + 8 + 5);

  // Another case may not come in between; the same one, changed, takes the old verdict away.
  std::string other = small_case;
  const std::string there =
      scratch.file("other.toml", other.replace(other.find("small"), 5, "big"));
  CHECK(program("validate " + there + into).exit_code == 4);
  const std::string changed = scratch.file("case.toml", std::string(small_case) + "\n# new\n");
  CHECK(program("sweep " + changed + into).exit_code == 0);
  CHECK(scratch.n_entries() == 2 + 1 + 5);
}

TEST_CASE("validate: the same bytes with one thread or two", "[tools][validate][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  for (const char* n : {"1", "2"})
    program("validate " + file + " --quiet --threads " + n + " --out " + (scratch / n));
  CHECK(shell("diff -r " + (scratch / "1") + " " + (scratch / "2")).exit_code == 0);
}

TEST_CASE("validate: a folder that cannot be is told before the long work", "[tools][validate]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const Outcome run = program("validate " + file + " --out " + file + "/in");
  CHECK(run.exit_code == 4);
  CHECK(run.out.empty());
}
