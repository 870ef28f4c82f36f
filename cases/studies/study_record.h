// cases/studies/study_record.h — what a study's folder says of itself, so that it needs no other
// file. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cases/staged_files.h"
#include "cases/studies/block_file.h"
#include "cases/studies/study_plan.h"

namespace lodegear {

/// Kept as plan.json beside copies of the study file and its base case.
struct StudyRecord {
  std::string name;
  std::string version;               ///< of lodegear
  std::string how;                   ///< "sobol"
  std::vector<std::string> columns;  ///< what varies
  std::vector<std::string> figures;
  std::optional<double> level, accuracy;
  int designs = 0;
  std::vector<int> designs_of_block;
  std::vector<std::string> block_hashes;  ///< fingerprints of the blocks' inputs
  std::string base_hash;
  int base_rows = 1;  ///< 2: the base case is solved on a finer mesh too
  std::string study_sha256, case_sha256;

  int n_blocks() const { return static_cast<int>(block_hashes.size()); }
};

const char* name_of(Sampling how);
StudyRecord study_record(const StudyPlan& plan);
std::string record_text(const StudyRecord& record);
/// None if the text is no such record.
std::optional<StudyRecord> record_of_text(const std::string& text);

// ---- the folder ---------------------------------------------------------------------------------

namespace study_files {
inline constexpr const char *plan = "plan.json", *study = "study.toml", *base = "case.toml",
                            *blocks = "blocks", *lock = "lock", *csv = "study.csv",
                            *h5 = "study.h5", *summary = "study_summary.json";
}  // namespace study_files

/// Stands for the base case where a block is named by its number.
inline constexpr int base_block = -1;

/// "00012-0123456789abcdef.jsonl": another input, another name.
std::string block_name(const StudyRecord& record, int block);
std::string block_hash(const StudyRecord& record, int block);
/// The rows of a block that is finished and undamaged.
std::optional<std::vector<DesignRow>> finished_rows(const std::filesystem::path& folder,
                                                    const StudyRecord& record, int block);

/// What lies in a study's folder. Throws InputError, with a sentence, if it holds no study or an
/// unreadable one.
struct StudyInFolder {
  StudyRecord record;
  Study study;
};
StudyInFolder study_in_folder(const std::filesystem::path& folder);

}  // namespace lodegear
