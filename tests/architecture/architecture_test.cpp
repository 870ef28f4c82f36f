// tests/architecture/architecture_test.cpp — the tree keeps its rules, and breaking one is noticed.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "rules.h"

namespace fs = std::filesystem;
using namespace lodegear;

namespace {

const fs::path top = LODEGEAR_SOURCE_DIR;

TreeFile tree_file(const fs::path& path) {
  TreeFile file{fs::relative(path, top).generic_string(), {}};
  std::ifstream stream(path);
  for (std::string line; std::getline(stream, line);) file.lines.push_back(line);
  return file;
}

/// What a run leaves behind is no part of the tree: dot folders, Python's cache.
bool left_behind(const fs::path& path) {
  const std::string name = path.filename().string();
  return name.starts_with(".") || name == "__pycache__";
}

std::vector<TreeFile> tree_files() {
  std::vector<TreeFile> files;
  for (const std::string& folder : folders_of_the_tree())
    for (auto entry = fs::recursive_directory_iterator(top / folder);
         entry != fs::recursive_directory_iterator(); ++entry) {
      if (left_behind(entry->path())) {
        if (entry->is_directory()) entry.disable_recursion_pending();
      } else if (entry->is_regular_file()) {
        files.push_back(tree_file(entry->path()));
      }
    }
  return files;
}

/// A file that keeps all rules, and lines for it to break one.
TreeFile planted(const std::string& path, const std::vector<std::string>& lines) {
  TreeFile file{path,
                {"// " + path + " — planted", "// SPDX-License-Identifier: GPL-3.0-or-later"}};
  file.lines.insert(file.lines.end(), lines.begin(), lines.end());
  return file;
}

std::string first_complaint(const TreeFile& file) {
  const auto all = broken_rules(file);
  return all.empty() ? "none" : all.front();
}

}  // namespace

TEST_CASE("tree: every file keeps the rules", "[architecture]") {
  const auto files = tree_files();
  CHECK(files.size() > 200);  // else the walk is broken, not the tree small
  for (const TreeFile& file : files)
    for (const std::string& complaint : broken_rules(file)) FAIL_CHECK(complaint);
}

TEST_CASE("tree: the top holds only what is listed", "[architecture]") {
  for (const auto& entry : fs::directory_iterator(top)) {
    const std::string name = entry.path().filename().string();
    const bool output = name == "build" || name.starts_with("build-") || name == "results";
    INFO(name);
    CHECK((output || name.starts_with(".") || allowed_at_top(name)));
  }
}

TEST_CASE("rules: a planted violation is caught", "[architecture]") {
  using Catch::Contains;
  const auto complaint_of = [](const std::string& path, const std::string& line) {
    return first_complaint(planted(path, {line}));
  };
  const std::string include = "#include ";  // apart, or this file would break the rules
  CHECK_THAT(complaint_of("mesh/a.cpp", include + "\"solver/b.h\""), Contains("mesh/a.cpp:3:"));
  CHECK_THAT(complaint_of("mesh/a.cpp", include + "<solver/b.h>"), Contains("may not use solver"));
  CHECK_THAT(complaint_of("mesh/a.cpp", include + "\"materials/magnet.h\""), Contains("may not"));
  CHECK_THAT(complaint_of("materials/a.h", include + "\"mesh/gear.h\""), Contains("may not"));
  CHECK_THAT(complaint_of("solver/fem/a.h", include + "\"cases/case.h\""), Contains("may not"));
  CHECK_THAT(complaint_of("cases/a.cpp", include + "\"tools/a.h\""), Contains("may not"));
  CHECK_THAT(complaint_of("tools/a.cpp", "  # include \"tests/a.h\""), Contains("may not"));
  CHECK_THAT(complaint_of("tools/a.cpp", include + "\"../cases/a.h\""),
             Contains("top of the tree"));
  CHECK_THAT(complaint_of("mesh/outline.cpp", include + "<gmsh.h>"), Contains("gmsh_session"));
  CHECK_THAT(complaint_of("solver/a.cpp", include + "<cholmod.h>"), Contains("whose door is"));
  CHECK_THAT(complaint_of("cases/a.cpp", include + "<hdf5.h>"), Contains("hdf5_writer"));
  CHECK_THAT(complaint_of("cases/a.cpp", include + "<toml++/toml.h>"), Contains("toml_file"));
  CHECK_THAT(complaint_of("cases/a.cpp", include + "<boost/any.hpp>"), Contains("points.cpp"));
  CHECK_THAT(complaint_of("cases/a.cpp", std::string("// see /") + "home/me"), Contains("machine"));
  CHECK_THAT(first_complaint(planted("cases/a.cpp", std::vector<std::string>(499))),
             Contains("longer than 500"));
  CHECK_THAT(first_complaint({"mesh/a.h", {"#pragma once"}}), Contains("does not open"));
  CHECK_THAT(first_complaint({"mesh/a.h", {"// mesh/b.h — a", "// SPDX"}}), Contains("mesh/a.h"));
  CHECK_THAT(first_complaint({"mesh/a.h", {"// mesh/a.h — a", ""}}), Contains("SPDX"));
  CHECK_FALSE(allowed_at_top("notes.txt"));
}

TEST_CASE("rules: what is allowed is not complained of", "[architecture]") {
  const std::string include = "#include ";
  CHECK(broken_rules(planted("mesh/a.cpp", {include + "\"materials/words.h\""})).empty());
  CHECK(broken_rules(planted("mesh/a.cpp", {include + "\"mesh/gear.h\""})).empty());
  CHECK(broken_rules(planted("tools/a.cpp", {include + "\"solver/gap/annulus.h\""})).empty());
  CHECK(broken_rules(planted("tests/cases/a.cpp", {include + "<hdf5.h>"})).empty());
  CHECK(broken_rules(planted("solver/a.cpp", {include + "<vector>"})).empty());
  CHECK(allowed_at_top("solver"));
}
