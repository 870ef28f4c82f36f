// cases/studies/search/kept_designs.cpp — designs that are solved once and kept for good.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/kept_designs.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <exception>
#include <thread>

#include "cases/sha256.h"
#include "cases/staged_files.h"
#include "cases/studies/study_record.h"
#include "materials/words.h"
#include "solver/linear/one_thread.h"

namespace lodegear {

namespace fs = std::filesystem;

std::string kept_name(const std::string& base_hash, const std::string& key) {
  return base_hash.substr(0, 8) + "-" + key.substr(0, 16) + ".jsonl";
}

KeptDesigns::KeptDesigns(const StudyPlan& plan, const Catalogue& catalogue, const fs::path& folder,
                         const StudyOptions& options)
    : catalogue_(catalogue),
      folder_(folder),
      options_(options),
      base_hash_(plan.base_hash()),
      n_figures_(plan.task().figures.size()),
      task_(plan.task()),
      journal_(folder, "journal") {
  const Journals journals = read_journals(folder);
  for (const JournalLine& line : journals.lines)
    if (line.block.starts_with(base_hash_.substr(0, 8))) told_.insert(line.block);
  if (!options_.tell) return;
  for (const std::string& broken : journals.broken)
    options_.tell(broken + ": cannot be read and is left out; designs are known by their files.");
  if (!told_.empty())
    options_.tell(std::to_string(told_.size()) +
                  " designs are there already and are not solved again.");
}

std::string KeptDesigns::key_of(const Design& design, const DesignTask& task) const {
  return sha256("lodegear search design 1\n" + base_hash_ + "\n" +
                (task.accuracy ? "accuracy " + number_text(*task.accuracy)
                               : "level " + number_text(task.level)) +
                (task.whole_curves ? " whole curves\n" : "\n") + design.case_text);
}

std::optional<DesignOutcome> KeptDesigns::kept(const std::string& key, const Design& design) {
  const std::string name = kept_name(base_hash_, key);
  const auto rows = rows_of_block(bytes_of_file(folder_ / study_files::blocks / name), key,
                                  design.cells.size(), n_figures_);
  if (rows && rows->size() == 1) return rows->front().outcome;
  const std::lock_guard lock(state_);
  if (told_.erase(name) > 0 && options_.tell)
    options_.tell("A finished design is missing or damaged on the disk and is solved anew: " +
                  name);
  return std::nullopt;
}

void KeptDesigns::keep(const std::string& key, int number, const Design& design,
                       const DesignOutcome& outcome, double seconds) {
  const std::string name = kept_name(base_hash_, key);
  std::string mark;
  {
    const std::lock_guard lock(state_);
    mark = std::to_string(++writes_);
  }
  const std::string text = block_text(key, {{number, design.cells, outcome}});
  write_whole_file(folder_ / study_files::blocks / name, text, mark);
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  const std::lock_guard lock(state_);
  journal_.add({name, sha256(text), 1, seconds,
                std::chrono::duration_cast<std::chrono::seconds>(now).count()});
}

DesignOutcome KeptDesigns::solved(const std::string& key, const Design& design,
                                  const DesignTask& task) {
  using Clock = std::chrono::steady_clock;
  hold_to_one_thread();
  const auto begun = Clock::now();
  const Borrowed own(*this);
  DesignOutcome outcome =
      run_design(design.case_text, task, own->catalogue, options_.stop_asked, &own->kept);
  const bool as_asked = task.level == task_.level && task.whole_curves == task_.whole_curves;
  keep(key, as_asked ? 1 : 2, design, outcome,
       std::chrono::duration<double>(Clock::now() - begun).count());
  return outcome;
}

DesignOutcome KeptDesigns::outcome(const Design& design, const DesignTask& task) {
  const std::string key = key_of(design, task);
  {
    std::unique_lock lock(state_);
    released_.wait(lock, [&] { return !in_work_.contains(key); });
    if (const auto known = known_.find(key); known != known_.end()) return known->second;
    in_work_.insert(key);
  }
  try {
    auto outcome = kept(key, design);
    const bool found = outcome.has_value();
    if (!found) outcome = solved(key, design, task);
    {
      const std::lock_guard lock(state_);
      known_.emplace(key, *outcome);
      found_ += found;
    }
    release(key);
    return *outcome;
  } catch (...) {
    release(key);
    throw;
  }
}

void KeptDesigns::release(const std::string& key) {
  const std::lock_guard lock(state_);
  in_work_.erase(key);
  released_.notify_all();
}

std::vector<DesignOutcome> KeptDesigns::outcomes(const std::vector<Design>& designs,
                                                 const DesignTask& task) {
  std::vector<DesignOutcome> all(designs.size());
  std::atomic<std::size_t> next{0};
  std::exception_ptr failure;
  const auto work = [&] {
    try {
      for (std::size_t i = next++; i < designs.size(); i = next++) {
        if (options_.stop_asked && options_.stop_asked()) throw DesignStopped();
        all[i] = outcome(designs[i], task);
      }
    } catch (...) {
      next = designs.size();
      const std::lock_guard lock(state_);
      if (!failure) failure = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> others;
    const auto n =
        std::min(static_cast<std::size_t>(std::max(options_.threads, 1)), designs.size());
    for (std::size_t i = 1; i < n; ++i) others.emplace_back(work);
    work();
  }
  if (failure) std::rethrow_exception(failure);
  return all;
}

int KeptDesigns::asked() const {
  const std::lock_guard lock(state_);
  return static_cast<int>(known_.size());
}

int KeptDesigns::found() const {
  const std::lock_guard lock(state_);
  return found_;
}

KeptDesigns::Borrowed::Borrowed(KeptDesigns& owner) : owner_(owner) {
  const std::lock_guard lock(owner_.state_);
  if (owner_.free_.empty()) {
    own_ = std::make_unique<Own>(Own{owner_.catalogue_, {}});
  } else {
    own_ = std::move(owner_.free_.back());
    owner_.free_.pop_back();
  }
}

KeptDesigns::Borrowed::~Borrowed() {
  const std::lock_guard lock(owner_.state_);
  owner_.free_.push_back(std::move(own_));
}

}  // namespace lodegear
