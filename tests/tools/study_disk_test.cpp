// tests/tools/study_disk_test.cpp — full disks, missing rights, damaged files: told and mended.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "small_study.h"

using namespace lodegear;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

std::string some_block(const std::string& folder) {
  std::string first;
  for (const auto& entry : fs::directory_iterator(folder + "/blocks"))
    if (const std::string path = entry.path().string(); first.empty() || path < first) first = path;
  return first;
}

void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

/// A disk of its own in memory, gone with its owner.
struct SmallDisk {
  std::string at;
  bool mounted = false;
  explicit SmallDisk(const std::string& folder) : at(folder) {
    fs::create_directory(at);
    mounted = shell("mount -t tmpfs -o size=160k,nr_inodes=400 tmpfs " + at).exit_code == 0;
  }
  ~SmallDisk() {
    if (mounted) shell("umount " + at);
  }
  SmallDisk(const SmallDisk&) = delete;
};

struct Results {
  std::string csv, h5, summary;
  explicit Results(const std::string& folder)
      : csv(text_of_file(folder + "/study.csv")),
        h5(text_of_file(folder + "/study.h5")),
        summary(text_of_file(folder + "/study_summary.json")) {}
  bool operator==(const Results&) const = default;
};

}  // namespace

TEST_CASE("study: damaged blocks are seen and done anew, whatever was done to them",
          "[tools][study]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 4, 2), out = scratch / "o";
  REQUIRE(study(file, out).exit_code == 0);
  const Results good(out);
  const std::string block = some_block(out), text = text_of_file(block);
  std::string other_digit = text;
  other_digit[text.find("figures") + 11] ^= 1;
  for (const std::string& damage :
       {std::string(), text.substr(0, text.size() / 2), text.substr(0, text.size() - 1),
        other_digit, std::string("\0\0\0\0", 4), text + text}) {
    write(block, damage);
    CHECK_THAT(program("status " + out).out, Contains("missing or damaged"));
    const Outcome run = study(file, out);
    CHECK(run.exit_code == 0);
    CHECK_THAT(run.err, Contains("1 finished blocks are missing or damaged"));
    CHECK(text_of_file(block) == text);
    CHECK(Results(out) == good);
  }
}

TEST_CASE("study: a broken journal costs nothing: blocks are known by their files",
          "[tools][study]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 4, 2), out = scratch / "o";
  REQUIRE(study(file, out).exit_code == 0);
  const Results good(out);
  const std::string path = out + "/journal.jsonl", journal = text_of_file(path);
  const std::string block = some_block(out), text = text_of_file(block);
  const fs::file_time_type written = fs::last_write_time(block);
  for (const std::string& damage :
       {journal.substr(0, journal.size() - 7), "rubbish\n" + journal,
        journal + "{\"block\": 3}\n[]\nnull\n", std::string("\xff\xfe\0x", 4)}) {
    write(path, damage);
    const Outcome run = study(file, out);
    CHECK(run.exit_code == 0);
    CHECK_THAT(run.err, Contains("journal.jsonl, line") && Contains("left out"));
    CHECK(fs::last_write_time(block) == written);
    CHECK(Results(out) == good);
  }
  fs::remove(path);
  CHECK(study(file, out).exit_code == 0);
  CHECK(fs::last_write_time(block) == written);
  CHECK_THAT(text_of_file(path), Contains(fs::path(block).filename().string()));
}

TEST_CASE("study: a truncated HDF5 file or table is written anew, and it is said",
          "[tools][study]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 4, 2), out = scratch / "o";
  REQUIRE(study(file, out).exit_code == 0);
  const Results good(out);
  for (const char* name : {"study.h5", "study.csv"}) {
    const std::string path = out + "/" + name;
    fs::resize_file(path, fs::file_size(path) / 2);
    const Outcome run = study(file, out);
    CHECK(run.exit_code == 0);
    CHECK_THAT(run.err, Contains(std::string(name) + " was missing or damaged"));
    CHECK(Results(out) == good);
  }
  write(out + "/study_summary.json", "{");
  CHECK(study(file, out).exit_code == 0);
  CHECK(Results(out) == good);
}

TEST_CASE("study: a damaged plan.json is told by status and mended by the study",
          "[tools][study]") {
  const Scratch scratch;
  const std::string file = small_study(scratch, 4, 2), out = scratch / "o";
  REQUIRE(study(file, out).exit_code == 0);
  const Results good(out);
  for (const char* damage : {"", "{\"kind\": \"study\"}", "nonsense"}) {
    write(out + "/plan.json", damage);
    const Outcome status = program("status " + out);
    CHECK(status.exit_code == 2);
    CHECK_THAT(status.err, Contains("plan.json") && Contains("writes it anew"));
    CHECK(program("merge " + out).exit_code == 2);
    CHECK(study(file, out).exit_code == 0);
    CHECK(Results(out) == good);
  }
}

TEST_CASE("study: a full disk is told, what is finished stays, and with room it goes on",
          "[tools][study][slow]") {
  if (geteuid() != 0) return;  // a small disk of one's own needs the right to mount one
  const Scratch scratch;
  const std::string file = small_study(scratch, 240, 4);
  const SmallDisk disk(scratch / "disk");
  if (!disk.mounted) return;
  const std::string out = disk.at + "/o";
  const Outcome full = study(file, out);
  CHECK(full.exit_code == 4);
  CHECK_THAT(full.err,
             Contains("No space left on device") && Contains("What was finished before is kept"));
  const Outcome status = program("status " + out);
  CHECK(status.exit_code == 5);
  CHECK_THAT(status.out, !Contains("damaged") && !Contains("cannot be read"));
  CHECK(study(file, out).exit_code == 4);  // and again: no harm
  CHECK(shell("mount -o remount,size=4m " + disk.at).exit_code == 0);
  const Outcome room = study(file, out);
  CHECK(room.exit_code == 0);
  CHECK_THAT(room.err, Contains("Going on: "));
  REQUIRE(study(file, scratch / "whole").exit_code == 0);
  CHECK(Results(out) == Results(scratch / "whole"));
}

TEST_CASE("study: without the right to write it says so at once; status still reads",
          "[tools][study][slow]") {
  if (geteuid() != 0) return;  // only root can become somebody else
  const Scratch scratch;
  const std::string file = small_study(scratch, 4, 2), out = scratch / "o";
  REQUIRE(study(file, out).exit_code == 0);
  const Results good(out);
  REQUIRE(shell("chmod -R a+rX " + (scratch / "") + "; chmod a-w " + out).exit_code == 0);
  const std::string as_nobody = "setpriv --reuid=65534 --regid=65534 --clear-groups ";
  const Outcome run = shell(as_nobody + LODEGEAR_PROGRAM " study " + file + " --out " + out);
  CHECK(run.exit_code == 4);
  CHECK_THAT(run.err, Contains(out) && Contains("Permission denied"));
  CHECK(shell(as_nobody + LODEGEAR_PROGRAM " study " + file + " --out " + out + "/deeper")
            .exit_code == 4);
  CHECK(shell(as_nobody + LODEGEAR_PROGRAM " merge " + out).exit_code == 4);
  const Outcome status = shell(as_nobody + LODEGEAR_PROGRAM " status " + out);
  CHECK(status.exit_code == 0);
  CHECK_THAT(status.out, Contains("Finished"));
  CHECK(Results(out) == good);
}
