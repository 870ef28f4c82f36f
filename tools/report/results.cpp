// tools/report/results.cpp — what lies in a results folder, read back.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/results.h"

#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "materials/input_error.h"
#include "materials/words.h"

namespace lodegear {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

namespace {

[[noreturn]] void refuse(const fs::path& path, const std::string& why) {
  throw InputError({{{}, path.string(), why}});
}

/// Null where there is no such file.
Json json_of(const fs::path& path) {
  if (!fs::exists(path)) return nullptr;
  Json json = Json::parse(bytes_of_file(path), nullptr, false);
  if (!json.is_object() || json.value("program", Json()) != "lodegear")
    refuse(path, "is not one of lodegear's files; run the command again that wrote it.");
  return json;
}

void check_files(const fs::path& folder, const Json& json) {
  if (!json.is_object() || !json.contains("files")) return;
  for (const auto& [name, about] : json["files"].items()) {
    const fs::path path = folder / name;
    if (!fs::exists(path)) refuse(path, "is missing; run the command again that wrote it.");
    if (about.value("sha256", std::string()) != sha256(bytes_of_file(path)))
      refuse(path, "was changed after it was written; run the command again that wrote it.");
  }
}

}  // namespace

std::string case_sha256(const Results& results) {
  const Json& one = results.summary.is_object() ? results.summary : results.validation;
  return one["case"].value("sha256", std::string());
}

Results read_results(const fs::path& folder) {
  if (!fs::is_directory(folder)) refuse(folder, "is no folder.");
  Results results;
  results.folder = folder;
  results.summary = json_of(folder / "summary.json");
  results.validation = json_of(folder / "validation.json");
  if (results.summary.is_null() && results.validation.is_null())
    refuse(folder, "holds no results; 'lodegear sweep CASE.toml --out DIR' writes some.");
  check_files(folder, results.summary);
  check_files(folder, results.validation);
  const Json& one = results.summary.is_null() ? results.validation : results.summary;
  results.name = one["case"].value("name", folder.filename().string());
  const auto table = [&](const char* name) { return csv_table(bytes_of_file(folder / name)); };
  results.slip_curve = table("slip_curve.csv");
  results.running_curve = table("running_curve.csv");
  results.efficiency = table("efficiency_map.csv");
  results.temperatures = table("temperatures.csv");
  results.margin = table("magnet_margin.csv");
  results.loss = table("loss_density.csv");
  results.stack_length = table("stack_length.csv");
  results.slip_in_time = table("slip_in_time.csv");
  results.case_text = bytes_of_file(folder / "case.toml");
  results.tolerances = tolerance_studies_near(folder, case_sha256(results));
  return results;
}

}  // namespace lodegear
