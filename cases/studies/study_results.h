// cases/studies/study_results.h — from finished blocks to the files a person reads.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "cases/studies/study_record.h"
#include "cases/studies/study_table.h"

namespace lodegear {

/// Every row of a study whose blocks are all there. Throws InputError if some are missing.
StudyTable study_table(const std::filesystem::path& folder, const StudyInFolder& study);

/// Writes study.csv, study.h5 and study_summary.json, all or none, and tells of one that was
/// damaged. Returns their names. Throws WriteError, InputError.
std::vector<std::string> write_study_results(const std::filesystem::path& folder,
                                             const StudyInFolder& study,
                                             const std::function<void(const std::string&)>& tell);

}  // namespace lodegear
