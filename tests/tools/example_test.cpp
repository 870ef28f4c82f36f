// tests/tools/example_test.cpp — the installed library and its files serve programs of others.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>

#include "program.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;

TEST_CASE("example: a program of one's own builds on the installed library and runs",
          "[tools][example][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const std::string to = scratch / "installed", build = scratch / "build";
  const Outcome made = shell("cmake --install " LODEGEAR_BINARY_DIR " --prefix " + to +
                             " && cmake -S " LODEGEAR_SOURCE_DIR "/tools/example -B " + build +
                             " -DCMAKE_PREFIX_PATH=" + to + " && cmake --build " + build);
  INFO(made.out << made.err);
  REQUIRE(made.exit_code == 0);
  const Outcome run = shell(build + "/gap_study " + file);
  INFO(run.out << run.err);
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("0.6  "));
}

TEST_CASE("example: ten lines of Python read a result", "[tools][example]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  REQUIRE(program("sweep " + file + " -q --out " + (scratch / "r")).exit_code == 0);
  const Outcome run =
      shell("/usr/bin/python3 " LODEGEAR_SOURCE_DIR "/tools/example/read_results.py " +
            (scratch / "r/result.h5"));
  INFO(run.err);
  CHECK(run.exit_code == 0);
  CHECK(std::count(run.out.begin(), run.out.end(), '\n') == 40);
}
