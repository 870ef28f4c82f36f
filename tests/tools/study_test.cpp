// tests/tools/study_test.cpp — `lodegear study`, `status` and `merge` from outside.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "small_study.h"

using namespace lodegear;
using Catch::Contains;
using Catch::StartsWith;
namespace fs = std::filesystem;

namespace {

bool same_results(const std::string& a, const std::string& b) {
  for (const char* name : {"/study.csv", "/study.h5", "/study_summary.json"})
    if (text_of_file(a + name).empty() || text_of_file(a + name) != text_of_file(b + name))
      return false;
  return true;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

int n_blocks(const std::string& folder) {
  int n = 0;
  for ([[maybe_unused]] const auto& entry : fs::directory_iterator(folder + "/blocks")) ++n;
  return n;
}

}  // namespace

TEST_CASE("study: a small one gives a table, a summary and the best design", "[tools][study]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 6, 2);
  const Outcome run = study(file, scratch / "o");
  INFO(run.err);
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, StartsWith("small study: 6 designs (sobol)"));
  CHECK_THAT(run.out, Contains("Best: largest slip_torque_modulator_Nm"));
  CHECK_THAT(text_of_file(scratch / "o/study.csv"),
             StartsWith("design,state,modulator.span_percent,slip_torque_modulator_Nm,"
                        "magnet_mass_kg,remark\n1,good,"));
  const auto json = nlohmann::json::parse(text_of_file(scratch / "o/study_summary.json"));
  CHECK(json["designs"]["good"] == 6);
  const double best = json["best"]["designs"][0]["figure"];
  CHECK(best == json["figures"]["slip_torque_modulator_Nm"]["largest"]);
  // The base case is one the program can be asked about by itself.
  CHECK(json["figures"]["slip_torque_modulator_Nm"]["base"] > 1.0);
  CHECK(
      shell("h5dump -d /figures/slip_torque_modulator_Nm " + (scratch / "o/study.h5")).exit_code ==
      0);
  CHECK(shell("h5dump -d /varied/modulator.span_percent " + (scratch / "o/study.h5")).exit_code ==
        0);
  const Outcome status = program("status " + (scratch / "o"));
  CHECK(status.exit_code == 0);
  CHECK_THAT(status.out, Contains("6 of 6") && Contains("4 of 4 blocks") && Contains("Finished"));
}

TEST_CASE("study: one thread or three, in one go or by shards in any order: the same bytes",
          "[tools][study][slow]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 13, 2);
  REQUIRE(study(file, scratch / "one", "--threads 1").exit_code == 0);
  REQUIRE(study(file, scratch / "three", "--threads 3").exit_code == 0);
  CHECK(same_results(scratch / "one", scratch / "three"));
  for (const char* shard : {"3/3", "1/3"}) {
    const Outcome run = study(file, scratch / "shards", "--shard " + std::string(shard));
    INFO(run.err);
    REQUIRE(run.exit_code == 0);
    CHECK_THAT(run.out, Contains("Shard " + std::string(shard)));
  }
  const Outcome early = program("merge " + (scratch / "shards"));
  CHECK(early.exit_code == 2);
  CHECK_THAT(early.err, Contains("2 of 8 blocks are not finished"));
  CHECK_FALSE(fs::exists(scratch / "shards/study.csv"));
  CHECK(program("status " + (scratch / "shards")).exit_code == 5);
  REQUIRE(study(file, scratch / "shards", "--shard 2/3").exit_code == 0);
  CHECK_THAT(program("status " + (scratch / "shards")).out, Contains("lodegear merge"));
  const Outcome merge = program("merge " + (scratch / "shards"));
  CHECK(merge.exit_code == 0);
  CHECK_THAT(merge.out, Contains("13 designs"));
  CHECK(same_results(scratch / "one", scratch / "shards"));
}

TEST_CASE("study: a second run does nothing anew", "[tools][study]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 4, 2);
  REQUIRE(study(file, scratch / "o").exit_code == 0);
  const std::string journal = text_of_file(scratch / "o/journal.jsonl");
  const Outcome again = study(file, scratch / "o");
  CHECK(again.exit_code == 0);
  CHECK(text_of_file(scratch / "o/journal.jsonl") == journal);
  CHECK(again.err.empty());
}

TEST_CASE("study: a changed input is noticed, and what still fits is kept", "[tools][study]") {
  const Scratch scratch;
  std::string file = small_study(scratch, 4, 2);
  REQUIRE(study(file, scratch / "o").exit_code == 0);
  const std::string first = text_of_file(scratch / "o/study.csv");

  // More designs of the same sequence: the old blocks serve.
  file = small_study(scratch, 8, 2);
  const Outcome more = study(file, scratch / "o");
  CHECK(more.exit_code == 0);
  CHECK_THAT(more.err, Contains("the study file changed: 2 of 4 blocks ask for the same"));
  CHECK_THAT(text_of_file(scratch / "o/study.csv"), StartsWith(first));
  CHECK(n_blocks(scratch / "o") == 5);

  // Another base case: none does.
  scratch.file("small.toml", replaced(small_case, "stack_length_mm = 20", "stack_length_mm = 22"));
  const Outcome other = study(file, scratch / "o");
  CHECK(other.exit_code == 0);
  CHECK_THAT(other.err, Contains("the base case changed: 0 of 4 blocks"));
  CHECK(n_blocks(scratch / "o") == 10);  // the old ones stay

  // And back: everything is there already.
  scratch.file("small.toml", small_case);
  const std::string journal = text_of_file(scratch / "o/journal.jsonl");
  CHECK(study(file, scratch / "o").exit_code == 0);
  CHECK(text_of_file(scratch / "o/journal.jsonl") == journal);
  CHECK_THAT(text_of_file(scratch / "o/study.csv"), StartsWith(first));
}

TEST_CASE("study: a design that cannot be built is a row with its reason", "[tools][study]") {
  const Scratch scratch;
  scratch.file("small.toml", small_case);
  const std::string file =
      scratch.file("study.toml",
                   "case = \"small.toml\"\nhow = \"list\"\nlevel = 0\n[[vary]]\nkey = "
                   "\"modulator.outer_radius_mm\"\nvalues = [19, 20.5, 18.5]\n[best]\nmaximise = "
                   "\"slip_torque_modulator_Nm\"\n");
  const Outcome run = study(file, scratch / "o");
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("1 cannot be built"));
  CHECK_THAT(text_of_file(scratch / "o/study.csv"), Contains("\n2,failed,20.5,,,,,,,") &&
                                                        Contains("modulator.outer_radius_mm") &&
                                                        Contains("\n3,good,18.5,"));
}

TEST_CASE("study: limits that no design keeps, and designs that all fail, have exit codes",
          "[tools][study]") {
  const Scratch scratch;
  const std::string vary = "[[vary]]\nkey = \"modulator.span_percent\"\nfrom = 40\nto = 60\n";
  const std::string file =
      small_study(scratch, 2, 2,
                  vary +
                      "[best]\nminimise = \"magnet_mass_kg\"\n[[best.limit]]\nfigure = "
                      "\"slip_torque_modulator_Nm\"\nat_least = 1000\n");
  const Outcome none = study(file, scratch / "o");
  CHECK(none.exit_code == 5);
  CHECK_THAT(none.out, Contains("no design keeps the limits"));
  const std::string bad = small_study(
      scratch, 2, 2, "[[vary]]\nkey = \"modulator.outer_radius_mm\"\nfrom = 21\nto = 22\n");
  CHECK(study(bad, scratch / "b").exit_code == 3);
}

TEST_CASE("study: slips of the pen are told, and nothing is written", "[tools][study]") {
  const Scratch scratch;
  const std::string file =
      small_study(scratch, 4, 2, "[[vary]]\nkey = \"modulator.span\"\nfrom = 4\nto = 6\n");
  const Outcome run = study(file, scratch / "o");
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("vary[1].key") && Contains("1 mistake"));
  CHECK_FALSE(fs::exists(scratch / "o"));
  CHECK(study(scratch / "none.toml", scratch / "o").exit_code == 2);
  const std::string good = small_study(scratch, 4, 2);
  for (const char* shard : {"0/3", "4/3", "1", "1/", "a/b", "1/2/3", "-1/2", "1/0"}) {
    INFO(shard);
    const Outcome wrong = study(good, scratch / "o", "--shard=" + std::string(shard));
    CHECK(wrong.exit_code == 2);
    CHECK_THAT(wrong.err, Contains("--shard"));
  }
  CHECK_FALSE(fs::exists(scratch / "o"));
  const Outcome status = program("status " + (scratch / "o"));
  CHECK(status.exit_code == 2);
  CHECK_THAT(status.err, Contains("there is no such folder"));
  fs::create_directory(scratch / "empty");
  CHECK_THAT(program("merge " + (scratch / "empty")).err, Contains("holds no study"));
  CHECK_THAT(program("status " + (scratch / "empty")).err, Contains("holds no study"));
}

TEST_CASE("study: a folder with something else is refused, unless forced", "[tools][study]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 2, 2);
  fs::create_directory(scratch / "o");
  scratch.file("o/letter.txt", "dear");
  const Outcome refused = study(file, scratch / "o");
  CHECK(refused.exit_code == 4);
  CHECK_THAT(refused.err, Contains("letter.txt") && Contains("--force"));
  CHECK(study(file, scratch / "o", "--force").exit_code == 0);
  CHECK(text_of_file(scratch / "o/letter.txt") == "dear");
  REQUIRE(study(file, scratch / "p").exit_code == 0);
  scratch.file("study.toml",
               replaced(text_of_file(file), "name = \"small study\"", "name = \"another\""));
  const Outcome other = study(file, scratch / "p");
  CHECK(other.exit_code == 4);
  CHECK_THAT(other.err, Contains("holds another study, \"small study\""));
}
