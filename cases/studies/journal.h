// cases/studies/journal.h — a line for every finished block, brought to the disk before the next.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "cases/studies/folder_lock.h"

namespace lodegear {

struct JournalLine {
  std::string block;   ///< name of the block's file
  std::string sha256;  ///< of that file
  int designs = 0;
  double seconds = 0.0;       ///< of work on it; 0 = found finished
  std::int64_t finished = 0;  ///< when, s since 1970 (UTC)
};

/// A journal that is written to. Shards have one each, so that no two processes share one.
class Journal {
 public:
  /// `<stem>.jsonl` in the folder, or, while another process writes there, `<stem>-2.jsonl` and so
  /// on. Throws WriteError.
  Journal(const std::filesystem::path& folder, const std::string& stem);

  /// Writes the line and brings it to the disk. Of a line that does not fit nothing is left. Throws
  /// WriteError.
  void add(const JournalLine& line);

 private:
  struct File {
    std::filesystem::path path;
    FolderLock lock;
  };
  static File first_free(const std::filesystem::path& folder, const std::string& stem);
  File file_;
};

/// Everything that the journals of a folder say, and which lines say nothing.
struct Journals {
  std::vector<JournalLine> lines;
  std::vector<std::string> broken;  ///< "journal.jsonl, line 3"
};
Journals read_journals(const std::filesystem::path& folder);

}  // namespace lodegear
