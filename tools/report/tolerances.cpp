// tools/report/tolerances.cpp — studies with tolerances that belong to a results folder.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/tolerances.h"

#include <algorithm>
#include <system_error>

#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/studies/study_findings.h"
#include "cases/units.h"
#include "materials/input_error.h"
#include "mesh/member_limits.h"
#include "tools/report/html.h"

namespace lodegear {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

namespace {

[[noreturn]] void refuse(const fs::path& path, const std::string& why) {
  throw InputError({{{}, path.string(), why}});
}

std::string spread_text(const Variation& v) {
  if (v.spread == Spread::normal) return "standard deviation " + number_for_person(v.deviation);
  if (v.spread == Spread::listed) return "one of " + std::to_string(v.values.size()) + " values";
  if (v.relative) return "± " + number_for_person((v.to - v.from) / 2);
  return number_for_person(v.from) + " to " + number_for_person(v.to);
}

std::string lot_text(const MagnetLot& lot) {
  std::string text;
  const auto add = [&text](double size, const std::string& what) {
    if (size != 0.0) text += (text.empty() ? "" : ", ") + what;
  };
  add(lot.strength_deviation,
      "strength ± " + number_for_person(100 * lot.strength_deviation) + " % (standard deviation)");
  add(lot.turned_deviation,
      "turned ± " + number_for_person(to_deg(lot.turned_deviation)) + "° (likewise)");
  add(lot.weak_chance, number_for_person(100 * lot.weak_chance) + " % of them weak");
  add(lot.reversed_chance, number_for_person(100 * lot.reversed_chance) + " % reversed");
  return text;
}

bool has_tolerances(const Study& study) {
  const bool about = std::any_of(study.vary.begin(), study.vary.end(), [](const Variation& v) {
    return v.spread == Spread::normal || v.relative;
  });
  return is_drawn(study) && (about || !study.lots.empty());
}

std::vector<fs::path> folders_in(const fs::path& folder) {
  std::vector<fs::path> all;
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error))
    if (it->is_directory(error)) all.push_back(it->path());
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

bool is_study_folder(const fs::path& folder) {
  return fs::exists(folder / study_files::plan) && !fs::exists(folder / "summary.json") &&
         !fs::exists(folder / "validation.json");
}

ToleranceStudy tolerance_study(const fs::path& folder) {
  const StudyInFolder found = study_in_folder(folder);
  if (!has_tolerances(found.study))
    refuse(folder,
           "holds a study without tolerances; a report shows those whose [[vary]] has "
           "'plus_minus' or 'standard_deviation', or that have [[magnets]].");
  ToleranceStudy study;
  study.name = found.record.name;
  study.case_sha256 = found.record.case_sha256;
  const fs::path file = folder / study_files::summary;
  study.summary = Json::parse(bytes_of_file(file), nullptr, false);
  if (!study.summary.is_object() || !study.summary.contains("figures"))
    refuse(folder, "holds a study that is not finished; 'lodegear study' goes on with it.");
  const std::string csv = bytes_of_file(folder / study_files::csv);
  const auto way = Json::json_pointer("/files/study.csv/sha256");
  if (!study.summary.contains(way) || study.summary[way] != sha256(csv))
    refuse(folder / study_files::csv,
           "was changed after it was written; run 'lodegear study' again.");
  study.designs = csv_table(csv);
  for (const Variation& v : found.study.vary) study.tolerances.push_back({v.key, spread_text(v)});
  for (const MagnetLot& lot : found.study.lots)
    study.tolerances.push_back(
        {std::string("each magnet of the ") + name_of(lot.member), lot_text(lot)});
  return study;
}

std::vector<ToleranceStudy> tolerance_studies_near(const fs::path& results,
                                                   const std::string& case_sha256) {
  std::vector<fs::path> candidates = folders_in(results);
  for (const fs::path& beside : folders_in(fs::absolute(results).lexically_normal() / ".."))
    candidates.push_back(beside);
  std::vector<ToleranceStudy> all;
  for (const fs::path& folder : candidates) {
    if (!is_study_folder(folder)) continue;
    // The cheap look first: a folder may have many studies of other cases beside it.
    if (sha256(bytes_of_file(folder / study_files::base)) != case_sha256) continue;
    try {
      all.push_back(tolerance_study(folder));
    } catch (const InputError&) {
      continue;
    }
  }
  return all;
}

}  // namespace lodegear
