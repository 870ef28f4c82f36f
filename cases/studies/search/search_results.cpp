// cases/studies/search/search_results.cpp — the files of a finished search.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/studies/search/local_search.h"
#include "cases/studies/search/search_problem.h"
#include "cases/studies/search/search_table.h"
#include "cases/studies/search/trade_off_search.h"
#include "cases/studies/study_summary.h"

namespace lodegear {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

namespace {

Json figures_json(const SearchTable& table, const DesignRow& row) {
  Json json = Json::object();
  for (std::size_t i = 0; i < table.all.record.figures.size(); ++i) {
    const auto& figure = row.outcome.figures[i];
    json[table.all.record.figures[i]] = figure ? Json(*figure) : Json();
  }
  return json;
}

Json chosen_json(const SearchTable& table, const DesignRow& row) {
  Json varied = Json::object();
  for (std::size_t i = 0; i < row.cells.size(); ++i)
    varied[table.all.record.columns[i]] = row.cells[i];
  Json json = {{"design", row.number},
               {"varied", varied},
               {"figures", figures_json(table, row)},
               {"ends_at", where_it_ends(table, row)}};
  for (const DesignRow& finer : table.finer)
    if (finer.number == row.number) {
      json["figures_finer_mesh"] = figures_json(table, finer);
      json["limits_missed_on_finer_mesh"] = missed_limits(table, finer);
    }
  return json;
}

std::string front_csv(const SearchTable& table) {
  StudyTable front = table.all;
  front.rows.clear();
  for (const std::size_t i : table.chosen) front.rows.push_back(table.all.rows[i]);
  return study_csv(front);
}

/// Case files of an earlier front that this one does not have.
void remove_old(const fs::path& folder, const SearchTable& table, StagedFiles& files) {
  std::vector<std::string> old;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder, error))
    if (entry.path().filename().string().starts_with(search_files::of_front))
      old.push_back(entry.path().filename().string());
  for (const char* name : {search_files::best, search_files::front_csv})
    if (fs::exists(folder / name, error)) old.push_back(name);
  for (const std::string& name : old) {
    const auto same = [&name](const auto& file) { return file.first == name; };
    const bool stays =
        name == search_files::front_csv && table.all.study.how == Sampling::trade_off;
    if (!stays && std::none_of(table.case_files.begin(), table.case_files.end(), same))
      files.remove(name);
  }
}

}  // namespace

std::string search_summary_json(const SearchTable& table,
                                const std::vector<std::pair<std::string, std::string>>& files) {
  Json json = Json::parse(study_summary_json(table.all, files));
  Json goals = Json::array(), chosen = Json::array();
  for (const Goal& goal : goals_of(*table.all.study.best))
    goals.push_back({{"figure", goal.figure}, {"wanted", goal.largest ? "largest" : "smallest"}});
  for (const std::size_t i : table.chosen) chosen.push_back(chosen_json(table, table.all.rows[i]));
  json["kind"] = "search";
  if (table.all.study.how == Sampling::trade_off) json["best"] = nullptr;  // there is not one
  json["search"] = {{"asked_for_at_most", table.all.study.designs},
                    {"goals", goals},
                    {"versions", {{"NLopt", nlopt_version()}, {"pagmo", pagmo_version()}}},
                    {table.all.study.how == Sampling::optimise ? "best" : "front", chosen}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::vector<std::string> write_search_results(const fs::path& folder, const SearchTable& table) {
  std::vector<std::pair<std::string, std::string>> contents = {
      {study_files::csv, study_csv(table.all)}, {study_files::h5, study_hdf5(table.all)}};
  if (table.all.study.how == Sampling::trade_off)
    contents.emplace_back(search_files::front_csv, front_csv(table));
  contents.insert(contents.end(), table.case_files.begin(), table.case_files.end());
  std::vector<std::pair<std::string, std::string>> fingerprints;
  for (const auto& [name, bytes] : contents) fingerprints.emplace_back(name, sha256(bytes));
  contents.emplace_back(study_files::summary, search_summary_json(table, fingerprints));
  StagedFiles files(folder);
  std::vector<std::string> names;
  for (const auto& [name, bytes] : contents) {
    files.add(name, bytes);
    if (!name.starts_with(search_files::of_front)) names.push_back(name);
  }
  if (table.all.study.how == Sampling::trade_off && !table.case_files.empty())
    names.push_back(std::string(search_files::of_front) + "*.toml");
  remove_old(folder, table, files);
  files.commit();
  return names;
}

}  // namespace lodegear
