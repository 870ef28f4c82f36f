// cases/studies/study_results.cpp — from finished blocks to the files a person reads.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_results.h"

#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/studies/study_summary.h"

namespace lodegear {

namespace fs = std::filesystem;

StudyTable study_table(const fs::path& folder, const StudyInFolder& study) {
  StudyTable table{study.record, study.study, {}, {}};
  int missing = 0;
  for (int block = base_block; block < study.record.n_blocks(); ++block) {
    auto rows = finished_rows(folder, study.record, block);
    if (!rows) {
      ++missing;
      continue;
    }
    auto& into = block == base_block ? table.base : table.rows;
    for (DesignRow& row : *rows) into.push_back(std::move(row));
  }
  if (missing > 0)
    throw InputError(
        {{folder.string(),
          {},
          std::to_string(missing) + " of " + std::to_string(study.record.n_blocks() + 1) +
              " blocks are not finished or damaged; run the study, or the shards that are "
              "missing, again: only what is missing is done."}});
  return table;
}

std::vector<std::string> write_study_results(const fs::path& folder, const StudyInFolder& study,
                                             const std::function<void(const std::string&)>& tell) {
  const StudyTable table = study_table(folder, study);
  std::vector<std::pair<std::string, std::string>> contents = {
      {study_files::csv, study_csv(table)}, {study_files::h5, study_hdf5(table)}};
  std::vector<std::pair<std::string, std::string>> fingerprints;
  for (const auto& [name, bytes] : contents) fingerprints.emplace_back(name, sha256(bytes));
  contents.emplace_back(study_files::summary, study_summary_json(table, fingerprints));
  StagedFiles files(folder);
  std::vector<std::string> names;
  const bool again = fs::exists(folder / study_files::summary) &&
                     bytes_of_file(folder / study_files::summary) == contents.back().second;
  for (const auto& [name, bytes] : contents) {
    // The summary vouches for the others: where it is the same, they should be.
    if (again && bytes_of_file(folder / name) != bytes && tell)
      tell(name + " was missing or damaged and is written anew from the finished blocks.");
    files.add(name, bytes);
    names.push_back(name);
  }
  files.commit();
  return names;
}

}  // namespace lodegear
