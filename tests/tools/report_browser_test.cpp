// tests/tools/report_browser_test.cpp — a report as a real browser shows it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "program.h"
#include "tests/support/small_case.h"
#include "tolerance_study.h"

using namespace lodegear;
using Catch::Contains;

namespace {

/// What tests/tools/read_page.py has to complain of.
Outcome read_in_browser(const std::string& page) {
  return shell("/usr/bin/python3 -B " LODEGEAR_SOURCE_DIR "/tests/tools/read_page.py " + page);
}

constexpr int no_browser = 77;

}  // namespace

TEST_CASE(
    "report: in a browser it fetches nothing, fits a telephone, and is read by keyboard, on "
    "paper and without scripts",
    "[tools][report][browser][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  REQUIRE(program("sweep " + file + " -q --out " + (scratch / "r")).exit_code == 0);
  program("validate " + file + " -q --out " + (scratch / "r"));
  const std::string study = scratch.file("study.toml", study_of_tolerances);
  REQUIRE(program("study " + study + " -q --out " + (scratch / "tolerances")).exit_code == 0);
  REQUIRE(program("report " + (scratch / "r") + " --frames 3").exit_code == 0);
  CHECK_THAT(text_of_file(scratch / "r/report.html"), Contains("gears drawn by lot"));
  const Outcome read = read_in_browser(scratch / "r/report.html");
  if (read.exit_code == no_browser) {
    WARN("not run: " << read.out);
    return;
  }
  INFO(read.out << read.err);
  CHECK(read.exit_code == 0);
}

TEST_CASE("report: the browser's test sees every fault of a page that has them all",
          "[tools][report][browser][slow]") {
  const Scratch scratch;
  const std::string page = scratch.file("faulty.html", R"(<!doctype html>
<html lang="en"><head><title>Faulty</title>
<style>body { background: #222; color: #fff; } .faint { color: #444; } :focus { outline: none; }
div { width: 80rem; }</style></head><body>
<p class="faint">Grey on grey.</p><div>Too wide for a telephone.</div>
<a href="#x">Without a mark when it is focused</a>
<figure class="chart"><p class="readout">Not reached</p></figure>
<img src="https://faulty.invalid/picture.png" alt="">
<script>console.error("trouble"); throw new Error("broken");</script>
</body></html>)");
  const Outcome read = read_in_browser(page);
  if (read.exit_code == no_browser) {
    WARN("not run: " << read.out);
    return;
  }
  CHECK(read.exit_code == 1);
  for (const char* complaint :
       {"390 px, light: DIV.null sticks out", "the page scrolls sideways", "the ground is rgb",
        "hard to read: Grey on grey.", "shows no focus", "Tab reaches 0 of 1",
        "on paper: 0 of 1 charts", "without scripts: 0 of 1", "fetches https://faulty.invalid",
        "a script failed", "trouble"})
    CHECK_THAT(read.out, Contains(complaint));
}
