// tests/cases/result_write_test.cpp — the results folder and what may be replaced in it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <hdf5.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cases/result_file.h"
#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/write_error.h"
#include "cases/write_result.h"
#include "result_of_tests.h"

using namespace lodegear;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

std::vector<std::string> names_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.push_back(entry.path().filename());
  std::sort(names.begin(), names.end());
  return names;
}

const std::vector<std::string> all_files = {"case.toml", "result.h5", "running_curve.csv",
                                            "slip_curve.csv", "summary.json"};

}  // namespace

TEST_CASE("write_result: all files, and the summary knows the fingerprints of the others",
          "[cases][result]") {
  const ScratchFolder scratch;
  const fs::path out = scratch / "a/b";
  write_result(small_result(), out, false);
  CHECK(names_in(out) == all_files);
  const auto json = nlohmann::json::parse(text_of_file(out / "summary.json"));
  for (const auto& [name, entry] : json["files"].items())
    CHECK(entry["sha256"] == sha256(text_of_file(out / name)));
  CHECK(json["files"].size() == 4);
  CHECK(text_of_file(out / "case.toml") == small_result().input.source_text);
}

TEST_CASE("write_result: again into the same folder, the same bytes", "[cases][result]") {
  const ScratchFolder scratch;
  write_result(small_result(), scratch / "r", false);
  const std::string first = text_of_file(scratch / "r/result.h5");
  write_result(small_result(), scratch / "r", false);
  CHECK(names_in(scratch / "r") == all_files);
  CHECK(text_of_file(scratch / "r/result.h5") == first);
}

TEST_CASE("write_result: a file that the new result has not is removed", "[cases][result]") {
  const ScratchFolder scratch;
  write_result(small_result(), scratch / "r", false);
  CaseResult shorter = small_result();
  shorter.running_curves.clear();
  shorter.at_slip.reset();
  write_result(shorter, scratch / "r", false);
  CHECK_FALSE(fs::exists(scratch / "r/running_curve.csv"));
}

TEST_CASE("write_result: what is not ours is refused, or left alone by force", "[cases][result]") {
  const ScratchFolder scratch;
  fs::create_directory(scratch / "r");
  put_text(scratch / "r/thesis.txt", "years of work");
  CHECK_THROWS_WITH(write_result(small_result(), scratch / "r", false), Contains("thesis.txt"));
  CHECK(names_in(scratch / "r") == std::vector<std::string>{"thesis.txt"});
  write_result(small_result(), scratch / "r", true);
  CHECK(text_of_file(scratch / "r/thesis.txt") == "years of work");
  CHECK(names_in(scratch / "r").size() == 6);
}

TEST_CASE("write_result: somebody's case file alone in the folder is not ours", "[cases][result]") {
  const ScratchFolder scratch;
  fs::create_directory(scratch / "r");
  put_text(scratch / "r/case.toml", "name = \"mine\"");
  CHECK_THROWS_WITH(write_result(small_result(), scratch / "r", false), Contains("summary.json"));
}

TEST_CASE("write_result: results of another case are refused", "[cases][result]") {
  const ScratchFolder scratch;
  write_result(small_result(), scratch / "r", false);
  Case other = small_result().input;
  other.name = "large";
  CHECK_THROWS_WITH(check_result_folder(scratch / "r", other, false), Contains("another case"));
  CHECK_NOTHROW(check_result_folder(scratch / "r", other, true));
}

TEST_CASE("write_result: a case.toml that was edited in the folder is not lost",
          "[cases][result]") {
  const ScratchFolder scratch;
  write_result(small_result(), scratch / "r", false);
  put_text(scratch / "r/case.toml", "# edited");
  CHECK_THROWS_WITH(check_result_folder(scratch / "r", small_result().input, false),
                    Contains("edited"));
}

TEST_CASE("write_result: a file in place of the folder is told", "[cases][result]") {
  const ScratchFolder scratch;
  put_text(scratch / "r", "a file");
  CHECK_THROWS_AS(write_result(small_result(), scratch / "r", true), WriteError);
  CHECK_THROWS_AS(write_result(small_result(), scratch / "r/deeper", true), WriteError);
  CHECK(text_of_file(scratch / "r") == "a file");
}

TEST_CASE("staged files: nothing appears unless all is committed", "[cases][result]") {
  const ScratchFolder scratch;
  {
    StagedFiles files(scratch / "new/folder");
    files.add("one", "1");
    CHECK(fs::exists(scratch / "new/folder"));
    CHECK_THROWS_AS(files.add("no/such/place", "2"), WriteError);
  }
  CHECK_FALSE(fs::exists(scratch / "new"));
}

TEST_CASE("staged files: an old file stays whole until the new one is committed",
          "[cases][result]") {
  const ScratchFolder scratch;
  write_whole_file(scratch / "f", "old");
  {
    StagedFiles files(scratch / "");
    files.add("f", "new");
  }
  CHECK(text_of_file(scratch / "f") == "old");
  write_whole_file(scratch / "f", "new");
  CHECK(text_of_file(scratch / "f") == "new");
}

TEST_CASE("result.h5: torques read back bit by bit", "[cases][result]") {
  const ScratchFolder scratch;
  const CaseResult& result = small_result();
  put_text(scratch / "r.h5", result_file(result));
  const hid_t file = H5Fopen((scratch / "r.h5").c_str(), H5F_ACC_RDONLY, H5P_DEFAULT);
  REQUIRE(file >= 0);
  const hid_t set = H5Dopen2(file, "/slip_curve/torque", H5P_DEFAULT);
  REQUIRE(set >= 0);
  std::vector<double> torque(3 * result.slip_curve.size());
  CHECK(H5Dread(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, torque.data()) >= 0);
  for (std::size_t i = 0; i < result.slip_curve.size(); ++i)
    for (std::size_t m = 0; m < 3; ++m)
      CHECK(torque[3 * i + m] == result.slip_curve[i].torque[m]);  // the same double, untouched
  H5Dclose(set);
  for (const char* name : {"/input", "/meshes/ring/triangles", "/fields/0/a_modulator",
                           "/fields/0/gap_1/at_outer", "/running_curves/2/spectrum_sun"})
    CHECK(H5Lexists(file, name, H5P_DEFAULT) > 0);
  H5Fclose(file);
}
