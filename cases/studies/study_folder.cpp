// cases/studies/study_folder.cpp — making a study's folder one's own before working in it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_folder.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <system_error>
#include <thread>

#include "cases/staged_files.h"
#include "cases/studies/search/search_table.h"
#include "cases/write_error.h"
#include "materials/words.h"

namespace lodegear {

namespace fs = std::filesystem;

namespace {

/// Shards that start together wait for the one that settles the folder.
constexpr std::chrono::milliseconds between_tries(100);
constexpr int most_tries = 600;

bool is_ours(const std::string& name) {
  constexpr std::array ours = {search_files::best,  search_files::front_csv, study_files::plan,
                               study_files::study,  study_files::base,       study_files::blocks,
                               study_files::lock,   study_files::csv,        study_files::h5,
                               study_files::summary};
  return name.starts_with(".") || name.starts_with("journal") ||
         name.starts_with(search_files::of_front) ||
         std::find(ours.begin(), ours.end(), name) != ours.end();
}

void make_folders(const fs::path& folder) {
  std::error_code error;
  if (fs::exists(folder, error) && !fs::is_directory(folder, error))
    throw WriteError(folder, "is not a folder; a study needs a folder of its own.");
  fs::create_directories(folder, error);
  if (error) throw WriteError(folder, "the folder cannot be made: " + error.message() + ".");
}

void check_contents(const fs::path& folder, const StudyRecord& record) {
  std::vector<std::string> strange;
  bool study = false;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
    const std::string name = entry.path().filename().string();
    if (!is_ours(name)) strange.push_back(in_quotes(name));
    if (name == study_files::plan || name == study_files::lock) study = true;
  }
  const std::string advice = " Choose another folder, or give --force.";
  std::sort(strange.begin(), strange.end());
  if (strange.size() > 3) strange.resize(3);
  if (!strange.empty())
    throw WriteError(folder, "the folder holds what is not of a study (" +
                                 listed(strange, " and ") + ")." + advice);
  if (!study && fs::exists(folder / study_files::base))
    throw WriteError(folder, "the folder holds something else." + advice);
  const auto earlier = record_of_text(bytes_of_file(folder / study_files::plan));
  if (earlier && earlier->name != record.name)
    throw WriteError(folder, "the folder holds another study, " + in_quotes(earlier->name) +
                                 "; this one is " + in_quotes(record.name) + "." + advice);
}

/// Whether the folder already says exactly what this study says.
bool is_settled(const fs::path& folder, const StudyPlan& plan, const StudyRecord& record) {
  std::error_code error;
  return bytes_of_file(folder / study_files::plan) == record_text(record) &&
         bytes_of_file(folder / study_files::study) == plan.study().source_text &&
         bytes_of_file(folder / study_files::base) == plan.base_text() &&
         fs::is_directory(folder / study_files::blocks, error);
}

void tell_of_changes(const fs::path& folder, const StudyRecord& record, const Tell& tell) {
  const std::string there = bytes_of_file(folder / study_files::plan);
  if (there.empty() || !tell) return;
  const auto earlier = record_of_text(there);
  if (!earlier) return tell("plan.json was damaged and is written anew.");
  std::vector<std::string> changed;
  if (earlier->study_sha256 != record.study_sha256) changed.push_back("the study file");
  if (earlier->case_sha256 != record.case_sha256) changed.push_back("the base case");
  if (earlier->version != record.version) changed.push_back("the program");
  if (changed.empty() && earlier->block_hashes != record.block_hashes)
    changed.push_back("a material or a library");
  if (changed.empty()) return;
  if (record.n_blocks() == 0)
    return tell("Since the last run " + listed(changed, " and ") +
                " changed; designs that are asked for again as they were are kept.");
  int kept = 0;
  for (const std::string& hash : record.block_hashes)
    kept += std::count(earlier->block_hashes.begin(), earlier->block_hashes.end(), hash) > 0;
  tell("Since the last run " + listed(changed, " and ") + " changed: " + std::to_string(kept) +
       " of " + std::to_string(record.n_blocks()) + " blocks ask for the same as before.");
}

/// What killed processes left half-written. Only while no other process is at work.
void clear_away(const fs::path& blocks) {
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(blocks, error)) {
    const std::string name = entry.path().filename().string();
    if (name.starts_with(".") && name.ends_with(temporary_ending)) fs::remove(entry.path(), error);
  }
}

void settle(const fs::path& folder, const StudyPlan& plan, const StudyRecord& record,
            const StudyOptions& options) {
  std::error_code error;
  clear_away(folder / study_files::blocks);
  if (is_settled(folder, plan, record)) {
    StagedFiles probe(folder);  // better told now than after an hour
    probe.add("write-test", "");
    return;
  }
  tell_of_changes(folder, record, options.tell);
  fs::create_directory(folder / study_files::blocks, error);
  if (error)
    throw WriteError(folder / study_files::blocks,
                     "the folder cannot be made: " + error.message() + ".");
  StagedFiles files(folder);
  files.add(study_files::study, plan.study().source_text);
  files.add(study_files::base, plan.base_text());
  files.add(study_files::plan, record_text(record));
  files.commit();
}

[[noreturn]] void refuse_busy(const fs::path& folder, const FolderLock& lock) {
  throw WriteError(folder, lock.holder() +
                               " works in this folder; nothing was done. Wait until it has "
                               "finished ('lodegear status' tells), or choose another folder.");
}

}  // namespace

FolderLock folder_alone(const fs::path& folder) {
  FolderLock lock(folder / study_files::lock);
  if (!lock.take_alone()) refuse_busy(folder, lock);
  clear_away(folder / study_files::blocks);
  return lock;
}

FolderLock settled_folder(const fs::path& folder, const StudyPlan& plan, const StudyRecord& record,
                          const StudyOptions& options) {
  make_folders(folder);
  if (!options.force) check_contents(folder, record);
  FolderLock lock(folder / study_files::lock);
  if (!options.shard) {
    if (!lock.take_alone()) refuse_busy(folder, lock);
    settle(folder, plan, record, options);
    return lock;
  }
  for (int i = 0; i < most_tries; ++i) {
    if (is_settled(folder, plan, record)) {
      if (lock.take_shared()) return lock;
    } else if (lock.take_alone()) {
      settle(folder, plan, record, options);
      if (lock.take_shared()) return lock;
    }
    std::this_thread::sleep_for(between_tries);
  }
  throw WriteError(folder,
                   "shards of another study, or a whole run of this one (" + lock.holder() +
                       "), work in this folder; nothing was done. Wait until they have finished.");
}

}  // namespace lodegear
