// cases/studies/study_status.h — how far a study is, told from its folder while others work in it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace lodegear {

struct StudyStatus {
  std::string name;
  int blocks = 0, blocks_done = 0;  ///< a search has none
  int designs = 0, designs_done = 0, failed = 0;
  int damaged = 0;  ///< blocks that the journal tells of and that are not whole on the disk
  bool at_work = false;
  bool shared = false;                 ///< by shards
  std::string holder;                  ///< "process 4711 on mill", if one is at work
  bool written = false;                ///< the results belong to exactly these blocks
  std::optional<double> seconds_left;  ///< at the pace of the last quarter of an hour
  std::string best;                    ///< "best 48.7 N·m (design 12)", or empty
  std::vector<std::string> broken;     ///< lines of journals that cannot be read
};

/// Reads only, also without the right to write. Throws InputError if there is no study.
StudyStatus study_status(const std::filesystem::path& folder);

/// 0 finished and written, 5 not yet.
int exit_code(const StudyStatus& status);

}  // namespace lodegear
