// cases/write_result.cpp — the results folder: what is in it, and when it may be replaced.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/write_result.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <optional>

#include "cases/csv_files.h"
#include "cases/result_file.h"
#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/summary_json.h"
#include "cases/validation_csv.h"
#include "cases/validation_json.h"
#include "cases/write_error.h"
#include "materials/words.h"

namespace lodegear {

namespace fs = std::filesystem;

namespace {

constexpr const char* summary_name = "summary.json";
constexpr const char* case_name = "case.toml";
constexpr std::array curve_names = {"slip_curve.csv", "running_curve.csv", "result.h5", case_name,
                                    summary_name};
constexpr const char* judged_name = "validation.json";
constexpr std::array judged_names = {"efficiency_map.csv", "temperatures.csv", "magnet_margin.csv",
                                     "loss_density.csv",   "stack_length.csv", "slip_in_time.csv",
                                     "small_changes.csv",  judged_name};

/// What `report` makes of the others; out of date as soon as they change.
constexpr std::array report_names = {"report.html", "report.pdf"};

bool is_ours(const std::string& name) {
  const auto named = [&name](const std::string& ours) {
    return name == ours || name == "." + ours + temporary_ending;
  };
  return std::any_of(report_names.begin(), report_names.end(), named) ||
         std::any_of(curve_names.begin(), curve_names.end(), named) ||
         std::any_of(judged_names.begin(), judged_names.end(), named);
}

/// Case name and input fingerprint of what lies in a folder, as one of its files tells.
struct EarlierResult {
  std::string case_name, sha256;
};
std::optional<EarlierResult> earlier_result(const fs::path& file) {
  const auto json = nlohmann::json::parse(bytes_of_file(file), nullptr, false);
  if (!json.is_object() || json.value("program", nlohmann::json()) != "lodegear")
    return std::nullopt;
  const auto found = json.find("case");
  if (found == json.end() || !found->is_object()) return std::nullopt;
  const auto text = [&](const char* key) {
    const auto value = found->find(key);
    return value != found->end() && value->is_string() ? value->get<std::string>() : std::string();
  };
  return EarlierResult{text("name"), text("sha256")};
}

[[noreturn]] void refuse(const fs::path& folder, const std::string& why) {
  throw WriteError(folder, why + " Choose another folder, or give --force.");
}

void check_contents(const fs::path& folder, const Case& c) {
  std::vector<std::string> strange;
  bool empty = true;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
    empty = false;
    const std::string name = entry.path().filename();
    if (!is_ours(name) || !entry.is_regular_file()) strange.push_back(in_quotes(name));
  }
  std::sort(strange.begin(), strange.end());
  if (strange.size() > 3) strange.resize(3);
  if (!strange.empty())
    refuse(folder, "the folder holds what is not ours (" + listed(strange, " and ") + ").");
  if (empty) return;
  auto earlier = earlier_result(folder / summary_name);
  if (!earlier) earlier = earlier_result(folder / judged_name);
  if (!earlier) {
    if (fs::exists(folder / case_name) || fs::exists(folder / "result.h5"))
      refuse(folder, "the folder has files but no summary.json of lodegear.");
    return;
  }
  if (earlier->case_name != c.name)
    refuse(folder, "the folder holds the results of another case, " +
                       in_quotes(earlier->case_name) + "; this one is " + in_quotes(c.name) + ".");
  if (!fs::exists(folder / case_name)) return;
  const std::string there = sha256(bytes_of_file(folder / case_name));
  if (there != earlier->sha256 && there != sha256(c.source_text))
    refuse(folder, "its case.toml was edited after the results were written and would be lost.");
}

}  // namespace

void check_result_folder(const fs::path& folder, const Case& c, bool force) try {
  check_writable(folder, "results");
  if (!force && fs::is_directory(folder)) check_contents(folder, c);
} catch (const fs::filesystem_error& error) {
  throw WriteError(folder, "cannot be looked at: " + error.code().message() + ".");
}

namespace {

using Contents = std::vector<std::pair<std::string, std::string>>;

Contents fingerprints(const Contents& contents) {
  Contents all;
  for (const auto& [name, bytes] : contents) all.emplace_back(name, sha256(bytes));
  return all;
}

/// Puts all in place, and takes away what of `group` an earlier result left that this one has not,
/// and `other` if it is of another text of the case.
template <class Group, class Other>
std::vector<std::string> put(const Contents& contents, const Group& group, const Other& other,
                             const Case& c, const fs::path& folder) {
  StagedFiles files(folder);
  std::vector<std::string> names;
  for (const auto& [name, bytes] : contents) {
    files.add(name, bytes);
    names.push_back(name);
  }
  for (const char* const name : group)
    if (std::find(names.begin(), names.end(), name) == names.end()) files.remove(name);
  for (const char* const name : report_names) files.remove(name);
  const auto earlier = earlier_result(folder / other.back());
  if (earlier && earlier->sha256 != sha256(c.source_text))
    for (const char* const name : other) files.remove(name);
  files.commit();
  return names;
}

}  // namespace

std::vector<std::string> write_result(const CaseResult& result, const fs::path& folder,
                                      bool force) {
  check_result_folder(folder, result.input, force);
  Contents contents;
  if (!result.slip_curve.empty()) contents.emplace_back("slip_curve.csv", slip_curve_csv(result));
  if (!result.running_curves.empty() || result.at_slip)
    contents.emplace_back("running_curve.csv", running_curve_csv(result));
  contents.emplace_back("result.h5", result_file(result));
  contents.emplace_back(case_name, result.input.source_text);
  contents.emplace_back(summary_name, summary_json(result, fingerprints(contents)));
  return put(contents, curve_names, judged_names, result.input, folder);
}

std::vector<std::string> write_validation(const Validation& validation, const fs::path& folder,
                                          bool force) {
  const Case& c = validation.gear.input;
  check_result_folder(folder, c, force);
  Contents contents;
  contents.emplace_back("efficiency_map.csv", efficiency_map_csv(validation));
  contents.emplace_back("temperatures.csv", temperatures_csv(validation));
  contents.emplace_back("magnet_margin.csv", magnet_margin_csv(validation));
  contents.emplace_back("loss_density.csv", loss_density_csv(validation));
  contents.emplace_back("small_changes.csv", small_changes_csv(validation));
  if (validation.slip) contents.emplace_back("slip_in_time.csv", slip_in_time_csv(validation));
  if (!validation.lengths.empty())
    contents.emplace_back("stack_length.csv", stack_length_csv(validation));
  contents.emplace_back(judged_name, validation_json(validation, fingerprints(contents)));
  return put(contents, judged_names, curve_names, c, folder);
}

}  // namespace lodegear
