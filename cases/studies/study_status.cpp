// cases/studies/study_status.cpp — how far a study is, told from its folder.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_status.h"

#include <algorithm>
#include <chrono>
#include <map>

#include "cases/sha256.h"
#include "cases/studies/folder_lock.h"
#include "cases/studies/journal.h"
#include "cases/studies/search/run_search.h"
#include "cases/studies/study_best.h"
#include "cases/studies/study_record.h"

namespace lodegear {

namespace fs = std::filesystem;

namespace {

constexpr std::int64_t recently = 900;  // s

std::int64_t now() {
  return std::chrono::duration_cast<std::chrono::seconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

/// Designs a second that were finished lately, by all who were at work.
std::optional<double> pace(const std::vector<JournalLine>& lines) {
  const std::int64_t end = now();
  double designs = 0.0, begun = static_cast<double>(end);
  for (const JournalLine& line : lines) {
    if (line.seconds <= 0.0 || end - line.finished > recently) continue;
    designs += line.designs;
    begun = std::min(begun, static_cast<double>(line.finished) - line.seconds);
  }
  const double seconds = static_cast<double>(end) - begun;
  return designs > 0.0 && seconds > 0.0 ? std::optional(designs / seconds) : std::nullopt;
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

/// The summary names what it was made from.
bool results_are_written(const fs::path& folder, const StudyRecord& record) {
  std::error_code error;
  const std::string summary = bytes_of_file(folder / study_files::summary);
  return fs::exists(folder / study_files::csv, error) &&
         fs::exists(folder / study_files::h5, error) &&
         summary.find(record.study_sha256) != std::string::npos &&
         summary.find(record.case_sha256) != std::string::npos &&
         summary.find(sha256(bytes_of_file(folder / study_files::csv))) != std::string::npos;
}

void tell_who_works(const fs::path& folder, StudyStatus& status) {
  const LockState lock = lock_state(folder / study_files::lock);
  status.at_work = lock != LockState::free;
  status.shared = lock == LockState::shared;
  status.holder = first_line(bytes_of_file(folder / study_files::lock));
}

}  // namespace

StudyStatus study_status(const fs::path& folder) {
  const StudyInFolder study = study_in_folder(folder);
  if (is_search(study.study.how)) {
    StudyStatus status = search_status(folder, study);
    tell_who_works(folder, status);
    status.written = results_are_written(folder, study.record);
    if (status.written) status.designs = status.designs_done;  // some were asked for twice
    if (const auto designs_a_second = pace(read_journals(folder).lines))
      status.seconds_left = std::max(0, status.designs - status.designs_done) / *designs_a_second;
    return status;
  }
  const Journals journals = read_journals(folder);
  StudyStatus status;
  status.name = study.record.name;
  status.blocks = study.record.n_blocks() + 1;
  status.designs = study.record.designs;
  status.broken = journals.broken;
  std::map<std::string, bool> told;
  for (const JournalLine& line : journals.lines) told[line.block] = true;
  BestSoFar best(study.study.best, study.record.figures);
  for (int block = base_block; block < study.record.n_blocks(); ++block) {
    const auto rows = finished_rows(folder, study.record, block);
    if (!rows) status.damaged += told.contains(block_name(study.record, block));
    if (!rows) continue;
    ++status.blocks_done;
    if (block == base_block) continue;
    status.designs_done += static_cast<int>(rows->size());
    for (const DesignRow& row : *rows) {
      best.look_at(row);
      status.failed += row.outcome.state == DesignState::failed;
    }
  }
  status.best = best.text();
  tell_who_works(folder, status);
  status.written = status.blocks_done == status.blocks && results_are_written(folder, study.record);
  if (const auto designs_a_second = pace(journals.lines))
    status.seconds_left = (status.designs - status.designs_done) / *designs_a_second;
  return status;
}

int exit_code(const StudyStatus& status) { return status.written ? 0 : 5; }

}  // namespace lodegear
