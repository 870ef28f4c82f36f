// tests/architecture/rules.cpp — the rules: who includes whom, where foreign libraries enter, how a
// file opens. SPDX-License-Identifier: GPL-3.0-or-later
#include "rules.h"

#include <algorithm>
#include <map>
#include <regex>
#include <set>

namespace lodegear {

namespace {

using Names = std::set<std::string>;
using Complaints = std::vector<std::string>;

/// A folder includes itself and these. What is new belongs at the end of the chain.
const std::map<std::string, Names> may_include = {
    {"materials", {}},
    {"mesh", {}},
    {"solver", {"mesh", "materials"}},
    {"cases", {"solver", "mesh", "materials"}},
    {"tools", {"cases", "solver", "mesh", "materials"}},
    {"tests", {"tools", "cases", "solver", "mesh", "materials"}},
};

/// Materials know no shapes and meshes no laws; a mesh still speaks to the person and rounds
/// numbers.
const Names materials_for_mesh = {
    "materials/constants.h",    // the value of pi-like constants must be one
    "materials/input_error.h",  // one kind of error for whatever a person wrote
    "materials/words.h",        // numbers and lists in sentences
};

/// A library comes in by one door, so that another can take its place. Tests may look for
/// themselves.
struct Door {
  const char* header;              ///< as a regular expression
  std::vector<std::string> files;  ///< the door itself first
};
const std::vector<Door> doors = {
    // cases/versions.cpp reads version numbers only, for the record in every result.
    {"gmsh\\.h", {"mesh/gmsh_session.cpp", "cases/versions.cpp"}},
    {"cholmod\\.h", {"solver/linear/cholesky.cpp", "cases/versions.cpp"}},
    {"hdf5\\.h", {"cases/hdf5_writer.h", "cases/versions.cpp"}},
    {"cases/hdf5_writer\\.h",
     {"cases/hdf5_writer.cpp", "cases/result_file.cpp", "cases/studies/study_hdf5.cpp"}},
    {"boost/.*", {"cases/studies/points.cpp"}},
    {"nlopt\\.h.*", {"cases/studies/search/local_search.cpp"}},
    {"pagmo/.*", {"cases/studies/search/trade_off_search.cpp"}},
    {"(toml\\+\\+|toml\\.hpp).*", {"materials/toml_file.cpp"}},
    {"(cairo|fontconfig/).*\\.h", {"tools/drawings/pdf.cpp"}},
    {"png\\.h", {"tools/pictures/png_file.cpp"}},
    {"CLI/.*", {"tools/commands.h", "tools/suggestions.h"}},
};

constexpr std::size_t longest_file = 500;  // lines; a reader gives up sooner

bool ends_with(const std::string& path, const Names& endings) {
  return std::any_of(endings.begin(), endings.end(),
                     [&](const auto& e) { return path.ends_with(e); });
}

std::string folder_of(const std::string& path) { return path.substr(0, path.find('/')); }

std::string complaint_at(const TreeFile& file, std::size_t line, const std::string& what) {
  return file.path + ":" + std::to_string(line + 1) + ": " + what;
}

/// What is wrong with including `header`, or nothing.
std::string wrong_include(const std::string& path, const std::string& header) {
  const std::string from = folder_of(path), to = folder_of(header);
  if (header.starts_with(".."))
    return "includes '" + header + "'; paths start at the top of the tree";
  for (const auto& [pattern, files] : doors)
    if (from != "tests" && std::regex_match(header, std::regex(pattern)) &&
        std::find(files.begin(), files.end(), path) == files.end())
      return "includes '" + header + "', whose door is " + files.front();
  if (header.find('/') == std::string::npos || !may_include.contains(to) || from == to) return {};
  if (from == "mesh" && materials_for_mesh.contains(header)) return {};
  if (!may_include.at(from).contains(to))
    return "includes '" + header + "': " + from + " may not use " + to;
  return {};
}

Complaints wrong_includes(const TreeFile& file) {
  static const std::regex include(R"(\s*#\s*include\s*[<"]([^>"]+)[>"].*)");
  Complaints all;
  std::smatch match;
  for (std::size_t i = 0; i < file.lines.size(); ++i)
    if (std::regex_match(file.lines[i], match, include))
      if (const std::string wrong = wrong_include(file.path, match[1]); !wrong.empty())
        all.push_back(complaint_at(file, i, wrong));
  return all;
}

/// Whether one of the first `n` lines contains `text`.
bool opens_with(const TreeFile& file, std::size_t n, const std::string& text) {
  for (std::size_t i = 0; i < std::min(n, file.lines.size()); ++i)
    if (file.lines[i].find(text) != std::string::npos) return true;
  return false;
}

/// A C++ file: path and purpose, then the licence, nothing before. A script may have its
/// interpreter first.
Complaints wrong_opening(const TreeFile& file) {
  if (ends_with(file.path, {".json", ".md"})) return {};  // no comments, or no need of them
  const std::string licence = "SPDX-License-Identifier: GPL-3.0-or-later";
  const bool cpp = ends_with(file.path, {".h", ".cpp"});
  const bool list = file.path.ends_with("CMakeLists.txt");  // its name is its purpose
  const bool page = ends_with(file.path, {".css", ".js"});
  const std::string mark = cpp ? "// " : page ? "/* " : "# ";
  if (!list && !opens_with(file, cpp ? 1 : 2, mark + file.path + " — "))
    return {complaint_at(file, 0, "does not open with '" + file.path + " — ' and its purpose")};
  if (!opens_with(file, cpp ? 2 : 3, licence))
    return {complaint_at(file, 1, "does not say '" + licence + "'")};
  return {};
}

Complaints too_long(const TreeFile& file) {
  if (file.lines.size() <= longest_file || file.path.ends_with(".json")) return {};
  return {complaint_at(file, longest_file,
                       "is longer than " + std::to_string(longest_file) + " lines")};
}

/// Places of one machine. Put together here, so that this file does not contain them.
Complaints machine_places(const TreeFile& file) {
  const std::string slash = "/";
  Complaints all;
  for (const std::string& place : {slash + "work/", slash + "tmp/b-", slash + "home/"})
    for (std::size_t i = 0; i < file.lines.size(); ++i)
      if (file.lines[i].find(place) != std::string::npos)
        all.push_back(complaint_at(file, i, "names a place of one machine, " + place));
  return all;
}

}  // namespace

std::vector<std::string> broken_rules(const TreeFile& file) {
  Complaints all;
  for (const auto& rule : {wrong_includes, wrong_opening, too_long, machine_places})
    for (const std::string& complaint : rule(file)) all.push_back(complaint);
  return all;
}

bool allowed_at_top(const std::string& name) {
  static const Names files = {"README.md", "DEVELOPERS.md",  "CHANGELOG.md",     "CITATION.cff",
                              "LICENSE",   "CMakeLists.txt", "CMakePresets.json"};
  const auto& folders = folders_of_the_tree();
  return files.contains(name) || std::find(folders.begin(), folders.end(), name) != folders.end();
}

const std::vector<std::string>& folders_of_the_tree() {
  static const std::vector<std::string> folders = {"materials", "mesh",  "solver",
                                                   "cases",     "tools", "tests"};
  return folders;
}

}  // namespace lodegear
