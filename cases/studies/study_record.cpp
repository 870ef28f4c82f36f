// cases/studies/study_record.cpp — what a study's folder says of itself.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_record.h"

#include <nlohmann/json.hpp>
#include <system_error>

#include "cases/sha256.h"
#include "cases/studies/read_study.h"
#include "cases/versions.h"

namespace lodegear {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

namespace {

constexpr int format = 1;

Json or_null(const std::optional<double>& x) { return x ? Json(*x) : Json(); }
std::optional<double> optional_of(const Json& json) {
  return json.is_null() ? std::nullopt : std::optional(json.get<double>());
}

std::string padded(int number) {
  const std::string text = std::to_string(number);
  return std::string(text.size() < 5 ? 5 - text.size() : 0, '0') + text;
}

}  // namespace

const char* name_of(Sampling how) {
  switch (how) {
    case Sampling::list:
      return "list";
    case Sampling::grid:
      return "grid";
    case Sampling::sobol:
      return "sobol";
    case Sampling::latin_hypercube:
      return "latin hypercube";
    case Sampling::random:
      return "random";
    case Sampling::optimise:
      return "optimise";
    case Sampling::trade_off:
      return "trade-off";
  }
  return "";
}

StudyRecord study_record(const StudyPlan& plan) {
  StudyRecord record;
  record.name = plan.study().name;
  record.version = lodegear_version();
  record.how = name_of(plan.study().how);
  record.columns = plan.columns();
  record.figures = plan.task().figures;
  record.accuracy = plan.task().accuracy;
  if (!record.accuracy) record.level = plan.task().level;
  record.designs = plan.n_designs();
  for (int b = 0; b < plan.n_blocks(); ++b) {
    record.designs_of_block.push_back(plan.block(b).count);
    record.block_hashes.push_back(plan.input_hash(b));
  }
  record.base_hash = plan.base_hash();
  record.base_rows = plan.finer_task() ? 2 : 1;
  record.study_sha256 = sha256(plan.study().source_text);
  record.case_sha256 = sha256(plan.base_text());
  return record;
}

std::string record_text(const StudyRecord& record) {
  const Json json = {{"program", "lodegear"},
                     {"kind", "study"},
                     {"format", format},
                     {"version", record.version},
                     {"name", record.name},
                     {"how", record.how},
                     {"varied", record.columns},
                     {"figures", record.figures},
                     {"level", or_null(record.level)},
                     {"accuracy", or_null(record.accuracy)},
                     {"designs", record.designs},
                     {"study_sha256", record.study_sha256},
                     {"case_sha256", record.case_sha256},
                     {"base", record.base_hash},
                     {"base_rows", record.base_rows},
                     {"designs_of_block", record.designs_of_block},
                     {"blocks", record.block_hashes}};
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::optional<StudyRecord> record_of_text(const std::string& text) try {
  const Json json = Json::parse(text);
  if (json.at("kind").get<std::string>() != "study" || json.at("format").get<int>() != format)
    return std::nullopt;
  StudyRecord r;
  r.version = json.at("version").get<std::string>();
  r.name = json.at("name").get<std::string>();
  r.how = json.at("how").get<std::string>();
  r.columns = json.at("varied").get<std::vector<std::string>>();
  r.figures = json.at("figures").get<std::vector<std::string>>();
  r.level = optional_of(json.at("level"));
  r.accuracy = optional_of(json.at("accuracy"));
  r.designs = json.at("designs").get<int>();
  r.study_sha256 = json.at("study_sha256").get<std::string>();
  r.case_sha256 = json.at("case_sha256").get<std::string>();
  r.base_hash = json.at("base").get<std::string>();
  r.base_rows = json.at("base_rows").get<int>();
  r.designs_of_block = json.at("designs_of_block").get<std::vector<int>>();
  r.block_hashes = json.at("blocks").get<std::vector<std::string>>();
  if (r.block_hashes.size() != r.designs_of_block.size()) return std::nullopt;
  return r;
} catch (const Json::exception&) {
  return std::nullopt;
}

// ---- the folder ---------------------------------------------------------------------------------

std::string block_hash(const StudyRecord& record, int block) {
  return block == base_block ? record.base_hash
                             : record.block_hashes[static_cast<std::size_t>(block)];
}

std::string block_name(const StudyRecord& record, int block) {
  return (block == base_block ? std::string("base") : padded(block + 1)) + "-" +
         block_hash(record, block).substr(0, 16) + ".jsonl";
}

std::optional<std::vector<DesignRow>> finished_rows(const fs::path& folder,
                                                    const StudyRecord& record, int block) {
  const std::string text = bytes_of_file(folder / study_files::blocks / block_name(record, block));
  const bool base = block == base_block;
  auto rows = rows_of_block(text, block_hash(record, block), base ? 0 : record.columns.size(),
                            record.figures.size());
  const int wanted =
      base ? record.base_rows : record.designs_of_block[static_cast<std::size_t>(block)];
  if (!rows || static_cast<int>(rows->size()) != wanted) return std::nullopt;
  return rows;
}

StudyInFolder study_in_folder(const fs::path& folder) {
  std::error_code error;
  if (!fs::is_directory(folder, error))
    throw InputError({{folder.string(), {}, "there is no such folder."}});
  if (!fs::exists(folder / study_files::plan, error))
    throw InputError({{folder.string(),
                       {},
                       "holds no study; 'lodegear study STUDY.toml --out " + folder.string() +
                           "' starts one."}});
  const auto record = record_of_text(bytes_of_file(folder / study_files::plan));
  if (!record)
    throw InputError({{(folder / study_files::plan).string(),
                       {},
                       "is damaged or of another version; the study command writes it anew and "
                       "keeps what is finished."}});
  return {*record, read_study_text(bytes_of_file(folder / study_files::study),
                                   (folder / study_files::study).string())};
}

}  // namespace lodegear
