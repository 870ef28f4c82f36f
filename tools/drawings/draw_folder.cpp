// tools/drawings/draw_folder.cpp — when a folder may be written to, and writing all or nothing.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/versions.h"
#include "cases/write_error.h"
#include "materials/words.h"
#include "tools/drawings/draw_files.h"

namespace lodegear {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

namespace {

constexpr const char* list_name = "drawings.json";

/// What drawings.json says of a folder.
struct EarlierDrawings {
  std::string case_name;
  std::map<std::string, std::string> sha256;  // by file
};

std::optional<EarlierDrawings> earlier_drawings(const fs::path& folder) {
  const auto json = Json::parse(bytes_of_file(folder / list_name), nullptr, false);
  if (!json.is_object() || json.value("program", Json()) != "lodegear") return std::nullopt;
  const auto named = json.find("case"), files = json.find("files");
  if (named == json.end() || files == json.end() || !named->is_object() || !files->is_object())
    return std::nullopt;
  EarlierDrawings earlier;
  const Json name = named->value("name", Json());
  if (name.is_string()) earlier.case_name = name.get<std::string>();
  for (const auto& [file, sum] : files->items())
    // A name with a slash could reach out of the folder.
    if (sum.is_string() && fs::path(file).filename() == fs::path(file))
      earlier.sha256[file] = sum.get<std::string>();
  return earlier;
}

[[noreturn]] void refuse(const fs::path& folder, const std::string& why) {
  throw WriteError(folder, why + " Choose another folder, or give --force.");
}

bool is_left_over(const std::string& name) {
  return name.starts_with(".") && name.ends_with(temporary_ending);
}

void check_contents(const fs::path& folder, const Case& c) {
  const auto earlier = earlier_drawings(folder);
  for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
    const std::string name = entry.path().filename();
    if (name == list_name || is_left_over(name)) continue;
    const bool ours = earlier && entry.is_regular_file() && earlier->sha256.contains(name);
    if (!ours) refuse(folder, "the folder holds what is not ours (" + in_quotes(name) + ").");
    if (sha256(bytes_of_file(entry.path())) != earlier->sha256.at(name))
      refuse(folder, in_quotes(name) + " was edited after it was written and would be lost.");
  }
  if (earlier && earlier->case_name != c.name)
    refuse(folder, "the folder holds the drawings of another case, " +
                       in_quotes(earlier->case_name) + "; this one is " + in_quotes(c.name) + ".");
}

bool is_among(const Files& files, const std::string& name) {
  return std::any_of(files.begin(), files.end(),
                     [&name](const auto& file) { return file.first == name; });
}

std::string list_of(const Files& files, const Case& c) {
  Json list = {{"program", "lodegear"},
               {"version", lodegear_version()},
               {"case", {{"name", c.name}, {"sha256", sha256(c.source_text)}}},
               {"files", Json::object()}};
  for (const auto& [name, bytes] : files) list["files"][name] = sha256(bytes);
  return list.dump(2) + "\n";
}

}  // namespace

void check_drawing_folder(const fs::path& folder, const Case& c, bool force) try {
  check_writable(folder, "drawings");
  if (!force && fs::is_directory(folder)) check_contents(folder, c);
} catch (const fs::filesystem_error& error) {
  throw WriteError(folder, "cannot be looked at: " + error.code().message() + ".");
}

void write_drawings(const Files& files, const Case& c, const fs::path& folder, bool force) {
  check_drawing_folder(folder, c, force);
  const auto earlier = earlier_drawings(folder);
  StagedFiles staged(folder);
  for (const auto& [name, bytes] : files) staged.add(name, bytes);
  staged.add(list_name, list_of(files, c));
  if (earlier)
    for (const auto& [name, sum] : earlier->sha256)
      // Even with --force an edited file that has no successor stays.
      if (!is_among(files, name) && sha256(bytes_of_file(folder / name)) == sum)
        staged.remove(name);
  staged.commit();
}

}  // namespace lodegear
