// cases/staged_files.h — several files that appear in a folder together or not at all.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace lodegear {

/// Every file is written whole under a temporary name in the folder and brought to the disk;
/// commit() then renames them all. If anything fails before that, the temporary files (and folders
/// made for them) are removed and nothing else has changed. Throws WriteError.
class StagedFiles {
 public:
  /// Makes the folder if there is none. Processes that may write the same names at the same time
  /// need a `mark` each, which goes into their temporary names.
  explicit StagedFiles(const std::filesystem::path& folder, std::string mark = {});
  ~StagedFiles();
  StagedFiles(const StagedFiles&) = delete;
  StagedFiles& operator=(const StagedFiles&) = delete;

  void add(const std::string& name, std::string_view bytes);
  /// A file of an earlier result that has no successor: removed by commit().
  void remove(const std::string& name) { obsolete_.push_back(name); }
  /// Puts the files in place, in the order they were added.
  void commit();

 private:
  std::filesystem::path temporary(const std::string& name) const;

  std::filesystem::path folder_;
  std::string mark_;
  std::vector<std::filesystem::path> made_folders_;  // outermost first
  std::vector<std::string> names_, obsolete_;
  bool committed_ = false;
};

/// One file, written whole or not at all; replaces what was there.
void write_whole_file(const std::filesystem::path& path, std::string_view bytes,
                      const std::string& mark = {});

/// Throws WriteError unless `folder`, or the nearest one above it that exists, can be written to:
/// better told now than after hours of work. `what` needs a folder of its own: "results".
void check_writable(const std::filesystem::path& folder, const std::string& what);

/// Throws WriteError if the file exists and is not to be replaced.
void check_new_file(const std::filesystem::path& path, bool replace);

/// All of a file; empty if it cannot be read.
std::string bytes_of_file(const std::filesystem::path& path);

/// What a temporary name ends with.
inline constexpr const char* temporary_ending = ".part";

}  // namespace lodegear
