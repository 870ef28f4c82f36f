// cases/studies/search/search_status.cpp — how far a search is, told from its folder.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <set>

#include "cases/studies/journal.h"
#include "cases/studies/search/run_search.h"
#include "cases/studies/study_best.h"

namespace lodegear {

namespace fs = std::filesystem;

namespace {

/// The one row of a file whose input need not be known: its name tells what it belongs to.
std::optional<DesignRow> row_in(const fs::path& path, const StudyRecord& record) {
  const std::string text = bytes_of_file(path);
  const std::string before = "\"input\":\"";
  const std::size_t at = text.find(before);
  if (at == std::string::npos || text.size() < at + before.size() + 64) return std::nullopt;
  const auto rows = rows_of_block(text, text.substr(at + before.size(), 64), record.columns.size(),
                                  record.figures.size());
  return rows && rows->size() == 1 ? std::optional(rows->front()) : std::nullopt;
}

}  // namespace

StudyStatus search_status(const fs::path& folder, const StudyInFolder& study) {
  const Journals journals = read_journals(folder);
  StudyStatus status;
  status.name = study.record.name;
  status.designs = study.record.designs;
  status.broken = journals.broken;
  std::set<std::string> names;
  for (const JournalLine& line : journals.lines)
    if (line.block.starts_with(study.record.base_hash.substr(0, 8))) names.insert(line.block);
  BestSoFar best(study.study.how == Sampling::optimise ? study.study.best : std::nullopt,
                 study.record.figures);
  for (const std::string& name : names) {
    const auto row = row_in(folder / study_files::blocks / name, study.record);
    if (!row || row->number != 1) continue;  // the base case, damaged, or on a finer mesh
    ++status.designs_done;
    status.failed += row->outcome.state == DesignState::failed;
    best.look_at(*row);
  }
  status.best = best.text();
  if (const std::size_t number = status.best.find(" (design"); number != std::string::npos)
    status.best.resize(number);  // it has none before the search has ended
  return status;
}

}  // namespace lodegear
