// cases/studies/run_study.h — working through a study so that nothing finished is ever lost.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "cases/studies/study_plan.h"

namespace lodegear {

// Designs are worked off in blocks. The rows of a finished block go into a file of their own
// (written under another name, brought to the disk, renamed), and a line into a journal. The file
// is named by the fingerprint of the block's input and ends with that of its content: whoever finds
// it whole need not do it again, and whatever was damaged, or belongs to another input, is seen and
// done anew. What is written at the end is made from these files alone, so it is the same whether
// the work was interrupted or not.

/// One of several processes that share a study: it takes blocks index, index + of, …
struct Shard {
  int index = 1;  ///< 1 … of
  int of = 1;
};

struct StudyProgress {
  int done = 0;        ///< designs, all in all
  int found_done = 0;  ///< of these finished before this run
  int total = 0;       ///< of the study, or of the shard
  std::string best;    ///< "best 48.7 N·m (design 12)", or empty
};

struct StudyOptions {
  int threads = 1;
  std::optional<Shard> shard;
  bool force = false;  ///< use a folder that holds something else
  std::function<bool()> stop_asked;
  std::function<void(const StudyProgress&)> progress;  ///< from any thread, one at a time
  std::function<void(const std::string&)> tell;        ///< a sentence for the person
};

struct StudyOutcome {
  bool finished = false;  ///< else it was stopped
  int blocks_done = 0;    ///< of those of this process
  int blocks = 0;
  std::vector<std::string> written;  ///< result files; none of a shard
};

/// Does what is missing and, unless it is a shard, writes the results. Throws WriteError if the
/// folder cannot be used, another process works in it or something cannot be written; what was
/// finished before stays.
StudyOutcome run_study(const StudyPlan& plan, const Catalogue& catalogue,
                       const std::filesystem::path& folder, const StudyOptions& options);

/// Writes the results of a study whose shards are done. Throws InputError if blocks are missing.
std::vector<std::string> merge_study(const std::filesystem::path& folder,
                                     const std::function<void(const std::string&)>& tell);

}  // namespace lodegear
