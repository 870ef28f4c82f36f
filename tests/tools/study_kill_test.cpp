// tests/tools/study_kill_test.cpp — a study that is killed again and again loses nothing.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <thread>

#include "cases/studies/draws.h"
#include "small_study.h"

using namespace lodegear;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

struct Ended {
  bool by_signal = false;
  int exit_code = -1;
};
Ended ended(pid_t pid) {
  int status = 0;
  waitpid(pid, &status, 0);
  return {WIFSIGNALED(status), WIFEXITED(status) ? WEXITSTATUS(status) : -1};
}

/// Finished blocks, each with what tells that it was not written again.
using Kept = std::map<std::string, std::pair<ino_t, std::string>>;
Kept finished_blocks(const std::string& out) {
  Kept kept;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(out + "/blocks", error)) {
    const std::string name = entry.path().filename().string();
    if (name.starts_with(".")) continue;
    struct stat about {};
    if (stat(entry.path().c_str(), &about) == 0)
      kept[name] = {about.st_ino, text_of_file(entry.path().string())};
  }
  return kept;
}

void wait_for_more_than(std::size_t blocks, const std::string& out) {
  for (int i = 0; i < 3000 && finished_blocks(out).size() <= blocks; ++i)
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
}

int lines(const std::string& path) {
  std::ifstream file(path);
  int n = 0;
  for (std::string line; std::getline(file, line);) ++n;
  return n;
}

/// Kills the study `kills` times, each time within `longest` seconds, then lets it finish.
void killed_and_compared(int designs, int designs_per_block, int kills, double longest) {
  const Scratch scratch;
  const std::string file = small_study(scratch, designs, designs_per_block);
  const std::string whole = scratch / "whole", out = scratch / "killed";
  REQUIRE(ended(started_study(file, whole)).exit_code == 0);
  Draws draws(20, 0, 0);
  Kept kept;
  int killed = 0, runs = 0, lost = 0;
  for (; runs < kills; ++runs) {
    const pid_t pid = started_study(file, out);
    // Every other one a while after it has finished something, however slow the machine is.
    if (runs % 2 == 1) wait_for_more_than(kept.size(), out);
    std::this_thread::sleep_for(std::chrono::duration<double>(longest * draws.part()));
    kill(pid, SIGKILL);
    killed += ended(pid).by_signal;
    const Kept now = finished_blocks(out);
    for (const auto& [name, block] : kept)
      if (!now.contains(name) || now.at(name) != block) ++lost;
    kept = now;
  }
  const std::size_t before_the_last = kept.size();
  REQUIRE(ended(started_study(file, out)).exit_code == 0);
  const Kept at_last = finished_blocks(out);
  for (const auto& [name, block] : kept)
    if (!at_last.contains(name) || at_last.at(name) != block) ++lost;
  CHECK(lost == 0);  // not one finished block is missing, or was written again
  CHECK(killed > kills / 2);
  CHECK(static_cast<int>(before_the_last) >= kills / 2 - 1);
  for (const char* name : {"/study.csv", "/study.h5", "/study_summary.json"})
    CHECK(text_of_file(out + name) == text_of_file(whole + name));
  CHECK(at_last.size() == finished_blocks(whole).size());
  CHECK(lines(out + "/journal.jsonl") >= static_cast<int>(at_last.size()));
  WARN(killed << " kills, " << before_the_last << " of " << at_last.size()
              << " blocks were there before the last run");
}

}  // namespace

TEST_CASE("study: killed twenty-five times at random, it ends as if nothing had happened",
          "[tools][study][slow]") {
  killed_and_compared(120, 2, 25, 0.3);
}

TEST_CASE("study: killed two hundred times at random, it ends as if nothing had happened",
          "[tools][study][long]") {
  killed_and_compared(1600, 4, 200, 0.4);
}

TEST_CASE("study: Ctrl-C stops at once, says what is kept, and the rest is done later",
          "[tools][study][slow]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 400, 4), out = scratch / "o";
  const Outcome run = shell("env --default-signal=INT " LODEGEAR_PROGRAM " study " + file +
                            " --out " + out + " & p=$!; sleep 2; kill -INT $p; wait $p");
  CHECK(run.exit_code == 130);
  CHECK_THAT(run.err, Contains("Stopped; ") && Contains("of 101 blocks are finished and kept"));
  const Outcome status = program("status " + out);
  CHECK(status.exit_code == 5);
  CHECK_THAT(status.out, Contains("of 400") && Contains("Nobody is at work"));
  CHECK_FALSE(fs::exists(out + "/study.csv"));
}

TEST_CASE("study: two processes on one folder: the second is told, the first is not disturbed",
          "[tools][study][slow]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 150, 4), out = scratch / "o";
  const pid_t first = started_study(file, out);
  while (finished_blocks(out).empty()) std::this_thread::sleep_for(std::chrono::milliseconds(20));
  const Outcome second = study(file, out);
  CHECK(second.exit_code == 4);
  CHECK_THAT(second.err,
             Contains("process " + std::to_string(first)) && Contains("works in this folder"));
  CHECK(program("merge " + out).exit_code == 4);
  CHECK_THAT(program("status " + out).out,
             Contains("process " + std::to_string(first)) && Contains("is at work"));
  CHECK(ended(first).exit_code == 0);
  CHECK(program("status " + out).exit_code == 0);
}

TEST_CASE("study: the same shard run twice at a time counts nothing twice",
          "[tools][study][slow]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 60, 3), out = scratch / "o";
  REQUIRE(study(file, scratch / "whole").exit_code == 0);
  const Outcome both = shell("lodegear study " + file + " --out " + out + " --shard 1/2 & a=$!\n" +
                             "lodegear study " + file + " --out " + out + " --shard 1/2 & b=$!\n" +
                             "lodegear study " + file + " --out " + out + " --shard 2/2 & c=$!\n" +
                             "wait $a && wait $b && wait $c");
  INFO(both.err);
  CHECK(both.exit_code == 0);
  REQUIRE(program("merge " + out).exit_code == 0);
  CHECK(text_of_file(out + "/study.csv") == text_of_file(scratch / "whole/study.csv"));
  CHECK(text_of_file(out + "/study.h5") == text_of_file(scratch / "whole/study.h5"));
}
