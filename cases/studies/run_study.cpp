// cases/studies/run_study.cpp — working through a study so that nothing finished is ever lost.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/run_study.h"

#include <algorithm>
#include <chrono>
#include <exception>
#include <map>
#include <mutex>
#include <thread>

#include "cases/kept_parts.h"
#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/studies/journal.h"
#include "cases/studies/study_best.h"
#include "cases/studies/study_folder.h"
#include "cases/studies/study_record.h"
#include "cases/studies/study_results.h"
#include "cases/write_error.h"
#include "solver/linear/one_thread.h"

namespace lodegear {

namespace fs = std::filesystem;

namespace {

using Clock = std::chrono::steady_clock;

/// Blocks of this process, the base case first.
std::vector<int> blocks_of(const StudyRecord& record, const std::optional<Shard>& shard) {
  std::vector<int> blocks;
  if (!shard || shard->index == 1) blocks.push_back(base_block);
  for (int b = 0; b < record.n_blocks(); ++b)
    if (!shard || b % shard->of == shard->index - 1) blocks.push_back(b);
  return blocks;
}

int designs_in(const StudyRecord& record, int block) {
  return block == base_block ? 0 : record.designs_of_block[static_cast<std::size_t>(block)];
}

std::string journal_stem(const std::optional<Shard>& shard) {
  if (!shard) return "journal";
  return "journal-" + std::to_string(shard->index) + "of" + std::to_string(shard->of);
}

/// "process-4711-on-mill", for names.
std::string mark_of_this_process() {
  std::string mark = this_process();
  std::replace(mark.begin(), mark.end(), ' ', '-');
  std::replace(mark.begin(), mark.end(), '/', '-');
  return mark;
}

// Threads take one design after the other; a block is written by the thread that ends its last one.
class StudyRun {
 public:
  StudyRun(const StudyPlan& plan, const Catalogue& catalogue, const StudyRecord& record,
           const fs::path& folder, const StudyOptions& options)
      : plan_(plan),
        catalogue_(catalogue),
        record_(record),
        folder_(folder),
        options_(options),
        best_(plan.study().best, record.figures),
        journal_(folder, journal_stem(options.shard)) {}

  StudyOutcome run() {
    look_for_finished();
    const int n_threads = std::clamp(options_.threads, 1, 1024);
    {
      std::vector<std::jthread> others;
      for (int i = 1; i < n_threads; ++i) others.emplace_back([this] { work(); });
      work();
    }
    if (failure_) std::rethrow_exception(failure_);
    outcome_.finished = outcome_.blocks_done == outcome_.blocks;
    return outcome_;
  }

 private:
  struct OpenBlock {
    std::vector<DesignRow> rows;
    int missing = 0;
    Clock::time_point begun = Clock::now();
  };
  struct Job {
    int block = 0, row = 0;
    Design design;
    DesignTask task;
  };

  // ---- what is there ----------------------------------------------------------------------------

  void look_for_finished() {
    const Journals journals = read_journals(folder_);
    std::map<std::string, std::string> told;  // file → fingerprint
    for (const JournalLine& line : journals.lines) told[line.block] = line.sha256;
    for (const std::string& broken : journals.broken)
      tell(broken + ": cannot be read and is left out; finished blocks are known by their files.");
    int damaged = 0;
    for (const int block : blocks_of(record_, options_.shard)) {
      ++outcome_.blocks;
      progress_.total += designs_in(record_, block);
      const auto rows = finished_rows(folder_, record_, block);
      if (!rows) {
        damaged += told.contains(block_name(record_, block));
        pending_.push_back(block);
        continue;
      }
      if (!told.contains(block_name(record_, block))) note_in_journal(block, 0.0);
      count(block, *rows);
    }
    progress_.found_done = progress_.done;
    if (damaged > 0)
      tell(std::to_string(damaged) +
           " finished blocks are missing or damaged on the disk and are computed anew.");
    if (outcome_.blocks_done > 0 && !pending_.empty())
      tell("Going on: " + std::to_string(progress_.done) + " of " +
           std::to_string(progress_.total) + " designs are there already.");
    show();
  }

  void count(int block, const std::vector<DesignRow>& rows) {
    ++outcome_.blocks_done;
    if (block == base_block) return;
    for (const DesignRow& row : rows) best_.look_at(row);
    progress_.done += static_cast<int>(rows.size()) - open_done_[block];
    open_done_.erase(block);
  }

  // ---- threads ----------------------------------------------------------------------------------

  void work() try {
    hold_to_one_thread();
    const Catalogue catalogue = own_catalogue();
    KeptParts kept;
    const auto stop = [this] { return stopped(); };
    while (const auto job = next_job()) {
      DesignRow row{
          job->block == base_block ? job->row : plan_.block(job->block).first + job->row + 1,
          job->design.cells, run_design(job->design.case_text, job->task, catalogue, stop, &kept)};
      finish(*job, std::move(row));
    }
  } catch (const DesignStopped&) {
  } catch (...) {
    const std::lock_guard lock(state_);
    if (!failure_) failure_ = std::current_exception();
  }

  /// It reads on demand, so it is not to be shared.
  Catalogue own_catalogue() {
    const std::lock_guard lock(state_);
    return catalogue_;
  }

  bool stopped() {
    if (options_.stop_asked && options_.stop_asked()) return true;
    const std::lock_guard lock(state_);
    return failure_ != nullptr;
  }

  int rows_in(int block) const {
    return block == base_block ? record_.base_rows : designs_in(record_, block);
  }

  std::optional<Job> next_job() {
    if (stopped()) return std::nullopt;
    const std::lock_guard lock(state_);
    if (next_row_ == 0 && next_ < pending_.size()) {
      OpenBlock& block = open_[pending_[next_]];
      block.missing = rows_in(pending_[next_]);
      block.rows.resize(static_cast<std::size_t>(block.missing));
    }
    if (next_ == pending_.size()) return std::nullopt;
    const Job job = job_of(pending_[next_], next_row_);
    if (++next_row_ == rows_in(job.block)) {
      next_row_ = 0;
      ++next_;
    }
    return job;
  }

  Job job_of(int block, int row) const {
    if (block == base_block)
      return {block, row, plan_.base_design(),
              row == 0 ? plan_.task() : plan_.finer_task().value_or(plan_.task())};
    return {block, row, plan_.design(plan_.block(block).first + row), plan_.task()};
  }

  void finish(const Job& job, DesignRow row) {
    const std::lock_guard lock(state_);
    OpenBlock& block = open_[job.block];
    block.rows[static_cast<std::size_t>(job.row)] = std::move(row);
    if (job.block != base_block) {
      ++progress_.done;
      ++open_done_[job.block];
    }
    if (--block.missing == 0) {
      keep(job.block, block);
      count(job.block, block.rows);
      open_.erase(job.block);
    }
    show();
  }

  // ---- the disk ---------------------------------------------------------------------------------

  void keep(int index, const OpenBlock& block) {
    const double seconds = std::chrono::duration<double>(Clock::now() - block.begun).count();
    write_whole_file(folder_ / study_files::blocks / block_name(record_, index),
                     block_text(block_hash(record_, index), block.rows), mark_);
    note_in_journal(index, seconds);
  }

  void note_in_journal(int index, double seconds) {
    const std::string name = block_name(record_, index);
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    journal_.add({name, sha256(bytes_of_file(folder_ / study_files::blocks / name)),
                  designs_in(record_, index), seconds,
                  std::chrono::duration_cast<std::chrono::seconds>(now).count()});
  }

  // ---- the person -------------------------------------------------------------------------------

  void tell(const std::string& sentence) {
    if (options_.tell) options_.tell(sentence);
  }
  void show() {
    progress_.best = best_.text();
    if (options_.progress) options_.progress(progress_);
  }

  const StudyPlan& plan_;
  const Catalogue& catalogue_;
  const StudyRecord& record_;
  const fs::path& folder_;
  const StudyOptions& options_;
  const std::string mark_ = mark_of_this_process();
  BestSoFar best_;
  Journal journal_;
  std::vector<int> pending_;
  std::mutex state_;  // all that follows, and the journal
  std::size_t next_ = 0;
  int next_row_ = 0;
  std::map<int, OpenBlock> open_;
  std::map<int, int> open_done_;  // designs counted of blocks that are not finished
  StudyProgress progress_;
  StudyOutcome outcome_;
  std::exception_ptr failure_;
};

}  // namespace

StudyOutcome run_study(const StudyPlan& plan, const Catalogue& catalogue, const fs::path& folder,
                       const StudyOptions& options) {
  const StudyRecord record = study_record(plan);
  const FolderLock lock = settled_folder(folder, plan, record, options);
  StudyOutcome outcome = StudyRun(plan, catalogue, record, folder, options).run();
  if (outcome.finished && !options.shard)
    outcome.written = write_study_results(folder, {record, plan.study()}, options.tell);
  return outcome;
}

std::vector<std::string> merge_study(const fs::path& folder, const Tell& tell) {
  const StudyInFolder study = study_in_folder(folder);
  if (is_search(study.study.how))
    throw InputError({{folder.string(),
                       {},
                       "holds a search, which has no shards to merge; the study command finishes "
                       "it."}});
  const FolderLock lock = folder_alone(folder);
  return write_study_results(folder, study, tell);
}

}  // namespace lodegear
