// tests/tools/commands_test.cpp — the other commands, help, and slips of the keyboard.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

#include "program.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;
using Catch::StartsWith;

TEST_CASE("program: version and help come with exit code 0", "[tools]") {
  const Outcome version = program("--version");
  CHECK(version.exit_code == 0);
  CHECK_THAT(version.out, StartsWith("lodegear ") && Contains("HDF5") && Contains("CLI11"));
  for (const char* command : {"", "sweep ", "probe ", "choose ", "new ", "materials "}) {
    const Outcome help = program(std::string(command) + "--help");
    CHECK(help.exit_code == 0);
    CHECK_THAT(help.out, Contains("lodegear new --sun") || Contains("Example") ||
                             Contains("lodegear choose --ratio"));
  }
}

TEST_CASE("program: without a command it shows what there is", "[tools]") {
  const Outcome run = program("");
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("First steps"));
}

TEST_CASE("program: a slip of the keyboard gets the nearest word", "[tools]") {
  struct Slip {
    const char *typed, *meant;
  };
  for (const Slip& slip : {Slip{"swep x", "Did you mean sweep?"}, Slip{"sweep x --ot y", "--out"},
                           Slip{"probe x --radios 3", "--radius"}, Slip{"materials N42S", "N42"},
                           Slip{"new --son 4", "--sun"}, Slip{"--versoin", "--version"}}) {
    const Outcome run = program(slip.typed);
    CHECK(run.exit_code == 2);
    CHECK_THAT(run.err, Contains(slip.meant));
  }
}

TEST_CASE("program: what is missing or too much is told", "[tools]") {
  for (const char* typed : {"sweep", "sweep x", "probe", "sweep x --out", "sweep a b --out c",
                            "sweep x --out y --threads 0", "sweep x --out y --threads two",
                            "sweep x --out ''", "new --sun many"}) {
    const Outcome run = program(typed);
    INFO(typed);
    CHECK(run.exit_code == 2);
    CHECK_FALSE(run.err.empty());
  }
}

TEST_CASE("program: a screen that takes no text is told by exit code 4", "[tools]") {
  CHECK(shell("lodegear materials > /dev/full").exit_code == 4);
}

TEST_CASE("new: what it writes can be swept, and is never overwritten", "[tools][new]") {
  const Scratch scratch;
  const std::string file = scratch / "gear.toml";
  const std::string request = "new --sun 2 --ring 7 --width 8 --thickness 4 --out " + file;
  CHECK(program(request).exit_code == 0);
  const std::string first = text_of_file(file);
  CHECK_THAT(first, Contains("pole_pieces = 9"));
  const Outcome again = program(request);
  CHECK(again.exit_code == 4);
  CHECK_THAT(again.err, Contains("exists"));
  CHECK(text_of_file(file) == first);
  CHECK(program("new --sun 2 --ring 7 --width 8 --thickness 4").out == first);
}

TEST_CASE("new: complaints name the option", "[tools][new]") {
  const Outcome run = program("new --gap -3 --grade N43");
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("--grade") && Contains("N42"));
  CHECK_THAT(program("new --gap -3").err, Contains("--gap"));
}

TEST_CASE("materials: lists all and shows one", "[tools][materials]") {
  const Outcome list = program("materials");
  CHECK(list.exit_code == 0);
  CHECK_THAT(list.out, Contains("N42SH") && Contains("M470-50A") && Contains("stainless-316"));
  const Outcome one = program("materials n42sh");
  CHECK(one.exit_code == 0);
  CHECK_THAT(one.out, StartsWith("N42SH (magnet)") && Contains("source:"));
}

namespace {

/// Columns of a probe's table, without its header.
std::vector<std::vector<double>> numbers(const std::string& csv) {
  std::vector<std::vector<double>> rows;
  std::istringstream lines(csv);
  std::string line;
  for (std::getline(lines, line); std::getline(lines, line);) {
    rows.emplace_back();
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) rows.back().push_back(std::stod(cell));
  }
  return rows;
}

}  // namespace

TEST_CASE("probe: a circle in the gap carries the torque that the sweep tells", "[tools][probe]") {
  // T/L = (r²/µ0) ∮ B_r B_θ dθ. Source: Jackson, Classical Electrodynamics, 3rd ed., §6.7.
  const Scratch scratch;
  std::string text = small_case;  // on the default mesh
  text.replace(text.find("fineness = 0.5"), 14, "fineness = 1.0");
  const std::string file = scratch.file("case.toml", text);
  const Outcome run = program("probe " + file + " --radius 14.5 --points 4000 --sun-deg 45");
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out,
             StartsWith("x_mm,y_mm,radius_mm,angle_deg,B_x_T,B_y_T,B_r_T,B_theta_T,B_T\n"));
  double sum = 0.0;
  const auto rows = numbers(run.out);
  REQUIRE(rows.size() == 4000);
  for (const auto& row : rows) {
    sum += row[6] * row[7];
    CHECK(std::hypot(row[4], row[5]) == Approx(row[8]).epsilon(1e-9));  // printed digits
  }
  const double mu0 = 4e-7 * M_PI, r = 0.0145, length = 0.020;
  const double torque = r * r / mu0 * sum * 2 * M_PI / 4000 * length;

  REQUIRE(program("sweep " + file + " --out " + (scratch / "r")).exit_code == 0);
  // Sun at 45° of two pole pairs: load angle 90°, the eleventh of 40 positions.
  const auto curve = numbers(text_of_file(scratch / "r/slip_curve.csv"));
  REQUIRE(curve[10][1] == Approx(45.0));
  // Shown are all orders that the circles resolve, the torque has those that tie the gap; the rest
  // is worth less than a thousandth.
  CHECK(torque == Approx(curve[10][4]).epsilon(1e-3));
}

TEST_CASE("probe: points may be negative, and everywhere", "[tools][probe]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const Outcome run = program("probe " + file + " --at 14.5,0 -14.5,-2 0,0 100,0 --ring-deg -3");
  REQUIRE(run.exit_code == 0);
  CHECK(numbers(run.out).size() == 4);
  CHECK(program("probe " + file + " --at 14.5").exit_code == 2);
  CHECK(program("probe " + file + " --at 1,2,3").exit_code == 2);
  CHECK(program("probe " + file).exit_code == 2);
  CHECK(program("probe " + file + " --radius -3").exit_code == 2);
  CHECK(program("probe " + file + " --radius nan").exit_code == 2);
}

TEST_CASE("probe: a file that exists is not replaced unless forced", "[tools][probe]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const std::string request = "probe " + file + " --radius 14.5 --points 3 --out ";
  CHECK(program(request + file).exit_code == 4);
  CHECK(text_of_file(file) == small_case);
  CHECK(program(request + (scratch / "b.csv")).exit_code == 0);
  CHECK(program(request + (scratch / "b.csv") + " --force").exit_code == 0);
  CHECK_THAT(text_of_file(scratch / "b.csv"), StartsWith("x_mm,"));
}
