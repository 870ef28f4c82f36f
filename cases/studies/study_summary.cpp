// cases/studies/study_summary.cpp — what a study comes to, for programs that read on.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_summary.h"

#include <nlohmann/json.hpp>

#include "cases/studies/study_best.h"
#include "cases/studies/study_findings.h"
#include "cases/versions.h"

namespace lodegear {

using Json = nlohmann::ordered_json;

namespace {

constexpr int format = 1;
constexpr std::size_t most_best = 10;

Json or_null(const std::optional<double>& x) { return x ? Json(*x) : Json(); }

Json spreading_json(const FigureFindings& found) {
  Json json = {{"unit", unit_of(found.name)},
               {"base", or_null(found.base)},
               {"base_finer_mesh", or_null(found.base_finer)}};
  if (!found.spreading) return json;
  const Spreading& s = *found.spreading;
  json.update({{"designs", s.count},
               {"mean", s.mean},
               {"standard_deviation", or_null(s.deviation)},
               {"smallest", s.smallest},
               {"p5", s.p5},
               {"p50", s.p50},
               {"p95", s.p95},
               {"largest", s.largest}});
  return json;
}

Json sensitivity_json(const StudyTable& table, const FigureFindings& found) {
  Json varied = Json::object();
  for (std::size_t i = 0; i < table.record.columns.size(); ++i) {
    const Sensitivity& s = found.sensitivities[i];
    varied[table.record.columns[i]] = {{"standardised_regression", or_null(s.regression)},
                                       {"rank_correlation", or_null(s.rank_correlation)},
                                       {"group_share", or_null(s.group_share)}};
  }
  return {{"r_squared", or_null(found.r_squared)}, {"varied", varied}};
}

Json best_json(const StudyTable& table) {
  if (!table.study.best) return nullptr;
  const Best& best = *table.study.best;
  Json rows = Json::array();
  for (const DesignRow* row : ranked(table.rows, table.record.figures, best, most_best)) {
    Json varied = Json::object();
    for (std::size_t i = 0; i < row->cells.size(); ++i)
      varied[table.record.columns[i]] = row->cells[i];
    rows.push_back({{"design", row->number},
                    {"figure", *figure_of(*row, table.record.figures, best.figure)},
                    {"varied", varied}});
  }
  Json limits = Json::array();
  for (const Limit& limit : best.limits)
    limits.push_back({{"figure", limit.figure},
                      {"at_least", or_null(limit.at_least)},
                      {"at_most", or_null(limit.at_most)}});
  return {{"figure", best.figure},
          {"wanted", best.largest ? "largest" : "smallest"},
          {"limits", limits},
          {"designs", rows}};
}

}  // namespace

std::string study_summary_json(const StudyTable& table,
                               const std::vector<std::pair<std::string, std::string>>& files) {
  const StateCounts counts = state_counts(table);
  Json figures = Json::object(), sensitivities = Json::object(), versions = Json::object();
  for (const FigureFindings& found : study_findings(table)) {
    figures[found.name] = spreading_json(found);
    sensitivities[found.name] = sensitivity_json(table, found);
  }
  versions["lodegear"] = table.record.version;
  for (const auto& [name, version] : library_versions()) versions[name] = version;
  Json json = {{"program", "lodegear"},
               {"kind", "study"},
               {"format", format},
               {"name", table.record.name},
               {"study_sha256", table.record.study_sha256},
               {"case_sha256", table.record.case_sha256},
               {"versions", versions},
               {"how", table.record.how},
               {"seed", table.study.seed},
               {"level", or_null(table.record.level)},
               {"accuracy", or_null(table.record.accuracy)},
               {"designs",
                {{"all", table.rows.size()},
                 {"good", counts.good},
                 {"unsure", counts.unsure},
                 {"failed", counts.failed}}},
               {"best", best_json(table)},
               {"figures", figures},
               {"sensitivities", sensitivities}};
  json["files"] = Json::object();
  for (const auto& [name, hash] : files) json["files"][name] = {{"sha256", hash}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

int study_exit_code(const StudyTable& table) {
  const StateCounts counts = state_counts(table);
  if (counts.good + counts.unsure == 0) return 3;
  if (table.study.best && ranked(table.rows, table.record.figures, *table.study.best, 1).empty())
    return 5;
  return 0;
}

}  // namespace lodegear
