// cases/studies/study_folder.h — making a study's folder one's own before working in it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <functional>
#include <string>

#include "cases/studies/folder_lock.h"
#include "cases/studies/run_study.h"
#include "cases/studies/study_record.h"

namespace lodegear {

using Tell = std::function<void(const std::string&)>;

/// Makes the folder if need be, locks it (a shard: together with others of its kind) and puts the
/// record and copies of study and case there. Throws WriteError if the folder is used by another
/// process, holds what is not ours, or cannot be written to.
FolderLock settled_folder(const std::filesystem::path& folder, const StudyPlan& plan,
                          const StudyRecord& record, const StudyOptions& options);

/// Locks a folder that is settled already, for merging.
FolderLock folder_alone(const std::filesystem::path& folder);

}  // namespace lodegear
