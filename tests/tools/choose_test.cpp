// tests/tools/choose_test.cpp — `lodegear choose` from outside.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <filesystem>

#include "program.h"

using namespace lodegear;
using Catch::Contains;
using Catch::StartsWith;

namespace {

// Few pole counts, quickly computed.
const std::string wish = "choose --ratio 3.5 --tolerance 0% --held ring --diameter 40 --length 20 ";

}  // namespace

TEST_CASE("choose: a wish gives ranked rows with reasons, a table and a case file that is accepted",
          "[tools][choose][slow]") {
  const Scratch scratch;
  const std::string csv = scratch / "rows.csv", file = scratch / "gear.toml";
  const Outcome run =
      program(wish + "--why 2/7/5 --csv " + csv + " --write 1 --out " + file + " --name mine");
  INFO(run.out << run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("2/7/5") && Contains("Why") && Contains("side pull") &&
                          Contains("Next: lodegear validate " + file));
  CHECK_THAT(text_of_file(csv), StartsWith("row,sun_pole_pairs,pole_pieces,ring_pole_pairs,held,"));
  CHECK_THAT(text_of_file(file), Contains("name = \"mine\"") && Contains("held = \"ring\""));
  CHECK(program("probe " + file + " --radius 5 --points 3").exit_code == 0);  // it reads and solves

  const std::string first = text_of_file(csv);
  CHECK(program(wish + "--csv " + csv).exit_code == 4);  // not replaced unasked
  CHECK(program(wish + "--threads 1 --force --csv " + csv).exit_code == 0);
  CHECK(text_of_file(csv) == first);
  CHECK(program(wish + "--write 1 --out " + file).exit_code == 4);
  CHECK(program(wish + "--write 99 --out " + (scratch / "other.toml")).exit_code == 2);
  CHECK(scratch.n_entries() == 2);
}

TEST_CASE("choose: a torque that no row holds is exit code 1", "[tools][choose][slow]") {
  const Outcome run = program(wish + "--torque 1e5");
  CHECK(run.exit_code == 1);
  CHECK_THAT(run.out, Contains("misses") && Contains("would hold it"));
}

TEST_CASE("choose: blocks of a stock with prices are weighed by cost", "[tools][choose][slow]") {
  const Scratch scratch;
  const std::string stock = scratch.file(
      "stock.toml",
      "[[block]]\nwidth_mm = 6\nlength_mm = 20\nthickness_mm = 3\ngrade = \"N42\"\nprice = 0.5\n"
      "[[block]]\nwidth_mm = 5\nlength_mm = 10\nthickness_mm = 2\ngrade = \"N45\"\nprice = 0.2\n");
  const Outcome run = program(
      "choose --ratio 3.5 --tolerance 5% --held ring --diameter 60 --length 20 --stock " + stock);
  INFO(run.out << run.err);
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("per cost") && Contains("a pole"));
}

TEST_CASE("choose: wrong wishes are told in the words of the command line", "[tools][choose]") {
  struct Wrong {
    std::string arguments, told;
  };
  const std::string size = " --diameter 100 --length 30";
  for (const Wrong& w :
       {Wrong{"--ratio 0.3" + size, "3.3333"}, Wrong{"--ratio 6" + size + " --held rign", "ring"},
        Wrong{"--ratio 6" + size + " --direction left", "reversed"},
        Wrong{"--ratio 6" + size + " --tolerance many", "per cent of the ratio"},
        Wrong{"--ratio nan" + size, "--ratio"}, Wrong{"--ratio 6 --length 30", "--diameter"},
        Wrong{"--ratio 6" + size + " --write 2", "--out"},
        Wrong{"--ratio 6" + size + " --why 4/5/6", "p_s/n/p_r"},
        Wrong{"--ratio 6" + size + " --by beauty", "cogging"},
        Wrong{"--ratio 6" + size + " --stock none.toml", "none.toml"},
        Wrong{"--ratio 199 --direction reversed" + size, "none can be built"}}) {
    const Outcome run = program("choose " + w.arguments);
    INFO(w.arguments << "\n" << run.err);
    CHECK(run.exit_code == 2);
    CHECK_THAT(run.err, Contains(w.told));
    CHECK(run.out.empty());
  }
}
