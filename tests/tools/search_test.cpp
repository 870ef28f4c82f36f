// tests/tools/search_test.cpp — `lodegear study` as a search: files, going on, wrong input.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <thread>

#include "cases/studies/draws.h"
#include "small_study.h"

using namespace lodegear;
using Catch::Contains;
using Catch::StartsWith;
namespace fs = std::filesystem;

namespace {

const std::string span_and_ring = R"([[vary]]
key = "modulator.span_percent"
from = 30
to = 70
[[vary]]
key = "ring.magnets.outer_radius_mm"
values = [22, 23, 24, 25]
)";

/// Magnets of stock thickness in a gear that is solved in a blink: the most torque from as much
/// magnet as the base case has, 0.128 kg.
std::string one_goal(const Scratch& scratch, int designs, const std::string& more = {}) {
  scratch.file("small.toml", small_case);
  return scratch.file("search.toml",
                      "name = \"small search\"\ncase = \"small.toml\"\nlevel = 0\n"
                      "how = \"optimise\"\ndesigns = " +
                          std::to_string(designs) + "\n" + more +
                          R"([best]
maximise = "slip_torque_modulator_Nm"
[[best.limit]]
figure = "magnet_mass_kg"
at_most = 0.13
)" + span_and_ring + R"([[vary]]
key = "sun.magnets.inner_radius_mm"
from = 8
to = 12
step = 1
)");
}

std::string trade_off(const Scratch& scratch, int designs) {
  scratch.file("small.toml", small_case);
  return scratch.file("front.toml",
                      "name = \"small front\"\ncase = \"small.toml\"\nlevel = 0\n"
                      "how = \"trade-off\"\ndesigns = " +
                          std::to_string(designs) + R"(
[best]
maximise = "slip_torque_modulator_Nm"
minimise = "magnet_mass_kg"
)" + span_and_ring);
}

/// Every result file of a folder with its bytes.
std::map<std::string, std::string> results(const std::string& folder) {
  std::map<std::string, std::string> all;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    const std::string name = fs::relative(entry.path(), folder).string();
    const bool work = name.starts_with("blocks") || name.starts_with(".") ||
                      name.starts_with("journal") || name == "lock";
    if (!work && entry.is_regular_file()) all[name] = text_of_file(entry.path().string());
  }
  return all;
}

/// Lines of the journal: designs that were solved, each once.
std::vector<std::string> solved(const std::string& out) {
  std::ifstream file(out + "/journal.jsonl");
  std::vector<std::string> names;
  for (std::string line; std::getline(file, line);)
    names.push_back(nlohmann::json::parse(line, nullptr, false).value("block", "broken"));
  std::sort(names.begin(), names.end());
  return names;
}

void killed_and_compared(const std::string& file, const Scratch& scratch, int kills,
                         double longest) {
  const std::string whole = scratch / "whole", out = scratch / "killed";
  REQUIRE(study(file, whole, "--threads 1").exit_code == 0);
  Draws draws(4, 0, 0);
  int killed = 0;
  for (int i = 0; i < kills; ++i) {
    const pid_t pid = started_study(file, out);
    std::this_thread::sleep_for(std::chrono::duration<double>(longest * draws.part()));
    kill(pid, SIGKILL);
    int status = 0;
    waitpid(pid, &status, 0);
    killed += WIFSIGNALED(status);
  }
  const std::size_t before = solved(out).size();
  REQUIRE(study(file, out, "--threads 2").exit_code == 0);
  CHECK(results(out) == results(whole));
  std::vector<std::string> names = solved(out), once = names;
  once.erase(std::unique(once.begin(), once.end()), once.end());
  // Killed between a design's file and its line, a design has no line but is not solved again.
  CHECK(once.size() == names.size());
  CHECK(names.size() <= solved(whole).size());
  CHECK(killed > 0);
  WARN(killed << " kills, " << before << " of " << names.size()
              << " designs were there before the last run");
}

}  // namespace

TEST_CASE("search: a small one gives a table, a summary and the best case, ready to be run",
          "[tools][search][slow]") {
  const Scratch scratch;
  const Outcome run = study(one_goal(scratch, 60), scratch / "o");
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, StartsWith("small search: ") && Contains("(optimise, seed 1)"));
  CHECK_THAT(run.out, Contains("Best: largest slip_torque_modulator_Nm within the limits"));
  CHECK_THAT(run.out, Contains("best, finer mesh"));
  const auto json = nlohmann::json::parse(text_of_file(scratch / "o/study_summary.json"));
  const auto best = json["search"]["best"][0];
  const double torque = best["figures"]["slip_torque_modulator_Nm"];
  CHECK(torque > json["figures"]["slip_torque_modulator_Nm"]["base"]);
  CHECK(best["figures"]["magnet_mass_kg"] <= 0.13);
  // Another mesh, whole curves: level 0 leaves a few per cent of such a coarse gear.
  CHECK(best["figures_finer_mesh"]["slip_torque_modulator_Nm"] == Approx(torque).epsilon(0.03));
  const Outcome sweep = program("sweep " + (scratch / "o/best.toml") + " --out " + (scratch / "s"));
  INFO(sweep.err);
  REQUIRE(sweep.exit_code == 0);
  const auto summary = nlohmann::json::parse(text_of_file(scratch / "s/summary.json"));
  CHECK_THAT(summary.dump(), Contains("slip"));
  const Outcome status = program("status " + (scratch / "o"));
  CHECK(status.exit_code == 0);
  CHECK_THAT(status.out, Contains("Finished"));
}

TEST_CASE("search: choices and steps are kept to in every design", "[tools][search][slow]") {
  const Scratch scratch;
  REQUIRE(study(one_goal(scratch, 40), scratch / "o").exit_code == 0);
  std::istringstream lines(text_of_file(scratch / "o/study.csv"));
  std::string line;
  std::getline(lines, line);
  CHECK_THAT(line, StartsWith("design,state,modulator.span_percent,ring.magnets.outer_radius_mm,"
                              "sun.magnets.inner_radius_mm,"));
  const std::regex row(R"(\d+,(good|unsure|failed),[0-9.]+,(22|23|24|25),(8|9|10|11|12),.*)");
  int n = 0;
  for (; std::getline(lines, line); ++n) {
    INFO(line);
    CHECK(std::regex_match(line, row));
  }
  CHECK(n > 20);
}

TEST_CASE("search: killed again and again it ends with the same bytes, nothing solved twice",
          "[tools][search][slow]") {
  const Scratch scratch;
  killed_and_compared(one_goal(scratch, 80), scratch, 8, 0.8);
}

TEST_CASE("search: a trade-off killed again and again ends with the same front",
          "[tools][search][slow]") {
  const Scratch scratch;
  killed_and_compared(trade_off(scratch, 60), scratch, 6, 0.8);
  const std::string front = text_of_file(scratch / "whole/front.csv");
  CHECK(std::count(front.begin(), front.end(), '\n') >= 4);  // a line for each outer radius, nearly
}

TEST_CASE("search: on the front more torque needs more magnet", "[tools][search][slow]") {
  const Scratch scratch;
  const Outcome run = study(trade_off(scratch, 60), scratch / "o");
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("Trade-off: largest slip_torque_modulator_Nm and smallest "
                               "magnet_mass_kg"));
  const auto json = nlohmann::json::parse(text_of_file(scratch / "o/study_summary.json"));
  CHECK(json["best"].is_null());
  double torque = 1e9, mass = 1e9;
  for (const auto& design : json["search"]["front"]) {
    CHECK(design["figures"]["slip_torque_modulator_Nm"] < torque);
    CHECK(design["figures"]["magnet_mass_kg"] < mass);
    torque = design["figures"]["slip_torque_modulator_Nm"];
    mass = design["figures"]["magnet_mass_kg"];
    CHECK(fs::exists(scratch /
                     ("o/design-" + std::to_string(design["design"].get<int>()) + ".toml")));
  }
}

TEST_CASE("search: a damaged design is solved anew and the rest is not", "[tools][search][slow]") {
  const Scratch scratch;
  const std::string file = one_goal(scratch, 30), out = scratch / "o";
  REQUIRE(study(file, out).exit_code == 0);
  const auto before = results(out);
  const std::size_t lines = solved(out).size();
  std::string name;
  for (const auto& entry : fs::directory_iterator(out + "/blocks")) name = entry.path().string();
  std::ofstream(name, std::ios::app) << "x";
  fs::remove(out + "/best.toml");
  const Outcome again = study(file, out);
  CHECK(again.exit_code == 0);
  CHECK_THAT(again.err, Contains("designs are there already") && Contains("is solved anew"));
  CHECK(results(out) == before);
  CHECK(solved(out).size() >= lines);
}

TEST_CASE("search: a changed search in the same folder is told, and goes through",
          "[tools][search][slow]") {
  const Scratch scratch;
  const std::string out = scratch / "o";
  REQUIRE(study(one_goal(scratch, 30), out).exit_code == 0);
  const Outcome more = study(one_goal(scratch, 50), out);
  CHECK(more.exit_code == 0);
  CHECK_THAT(more.err, Contains("Since the last run the study file changed"));
}

TEST_CASE("search: limits that no design keeps end with exit code 5 and no best case",
          "[tools][search][slow]") {
  const Scratch scratch;
  std::string file = one_goal(scratch, 25);
  std::string text = text_of_file(file);
  text.replace(text.find("0.13"), 4, "0.01");
  scratch.file("search.toml", text);
  const Outcome run = study(file, scratch / "o");
  CHECK(run.exit_code == 5);
  CHECK_THAT(run.out, Contains("No design of the search can be built and keeps the limits"));
  CHECK_FALSE(fs::exists(scratch / "o/best.toml"));
  CHECK(fs::exists(scratch / "o/study.csv"));
}

TEST_CASE("search: what does not go with one is said before anything is solved",
          "[tools][search]") {
  const Scratch scratch;
  const Outcome shard = study(one_goal(scratch, 20), scratch / "o", "--shard 1/2");
  CHECK(shard.exit_code == 2);
  CHECK_THAT(shard.err, Contains("--shard") && Contains("does not go with a search"));
  CHECK(study(one_goal(scratch, 20, "designs_per_block = 4\n"), scratch / "o").exit_code == 2);
  const std::string file = trade_off(scratch, 20);
  std::string text = text_of_file(file);
  text.erase(text.find("minimise"), std::string("minimise = \"magnet_mass_kg\"\n").size());
  scratch.file("front.toml", text);
  const Outcome one = study(file, scratch / "o");
  CHECK(one.exit_code == 2);
  CHECK_THAT(one.err, Contains("best: tells 1 goal; a trade-off is between two or three"));
  CHECK_FALSE(fs::exists(scratch / "o"));
}
