// tests/tools/bench_test.cpp — the program that measures speed still runs; what it says is not
// timed here. SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <sstream>
#include <vector>

#include "program.h"

using namespace lodegear;
using Catch::Contains;

namespace {

Outcome bench(const std::string& arguments) {
  return shell("'" LODEGEAR_BENCH_PROGRAM "' " + arguments);
}

std::vector<std::string> parts(const std::string& text, char separator) {
  std::vector<std::string> all;
  std::stringstream stream(text);
  for (std::string part; std::getline(stream, part, separator);) all.push_back(part);
  return all;
}

}  // namespace

TEST_CASE("bench: its smallest row is measured and put into the table", "[tools][bench]") {
  const std::vector<std::string> names = parts(bench("--header").out, ',');
  const Outcome run = bench("--quick reference unknowns/13k");
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  const std::vector<std::string> lines = parts(run.out, '\n');
  REQUIRE(lines.size() == 4);  // mesh, set-up, cold, warm
  for (const std::string& line : lines) {
    const std::vector<std::string> cells = parts(line, ',');
    CHECK(cells.size() == names.size());
    CHECK(std::stod(cells.at(5)) > 0);     // median
    CHECK(cells.at(6) == "CPU s");         // unit
    CHECK(std::stoi(cells.at(4)) > 1000);  // unknowns
  }
  const Scratch scratch;
  const std::string csv = scratch.file("bench.csv", bench("--header").out + run.out);
  CHECK_THAT(bench("--table '" + csv + "'").out, Contains("growth: cold"));
}

TEST_CASE("bench: the table compares only what keeps its accuracy", "[tools][bench]") {
  const std::string header = bench("--header").out;
  const auto row = [](const std::string& path, const std::string& seconds,
                      const std::string& error) {
    return "position warm at 0.1 %,gear," + path + ",,1," + seconds + ",CPU s,1,1,1," + error +
           ",0.01,1,\n";
  };
  const Scratch scratch;
  const auto table = [&](const std::string& ours, const std::string& peers) {
    return bench("--table '" + scratch.file("bench.csv", header + ours + peers) + "'").out;
  };
  const std::string peer = "general-purpose library";
  CHECK_THAT(table(row("reference", "0.1", "0.02"), row(peer, "0.5", "0.09")),
             Contains("5.00 times"));
  CHECK_THAT(table(row("reference", "0.1", "0.2"), row(peer, "0.5", "0.09")),
             Contains("no ratio") && Contains("larger than the row says"));
  CHECK_THAT(table(row("reference", "0.1", "0.02"), row(peer, "0.71", "0.09")),
             Contains("no ratio"));
}

TEST_CASE("bench: an unknown row is an error", "[tools][bench]") {
  CHECK(bench("reference no-such-row").exit_code != 0);
  CHECK(bench("no-such-path unknowns/13k").exit_code != 0);
  CHECK_THAT(bench("--list").out, Contains("reference position/standard/0.1\n"));
}
