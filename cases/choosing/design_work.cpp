// cases/choosing/design_work.cpp — many designs on several threads, results in fixed order.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/design_work.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

#include "solver/linear/one_thread.h"

namespace lodegear {

namespace {

class Workers {
 public:
  Workers(const std::vector<DesignTask>& tasks, const std::string& stage, const RunOptions& options)
      : tasks_(tasks), stage_(stage), options_(options), figures_(tasks.size()) {}

  std::vector<std::optional<DesignFigures>> run() {
    const int n = std::clamp(options_.threads, 1, std::max(1, static_cast<int>(tasks_.size())));
    {
      std::vector<std::jthread> others;
      for (int i = 1; i < n; ++i) others.emplace_back([this] { work(); });
      work();
    }
    if (failure_) std::rethrow_exception(failure_);
    return std::move(figures_);
  }

 private:
  void work() try {
    hold_to_one_thread();
    for (std::size_t i = next_++; i < tasks_.size(); i = next_++) {
      figures_[i] = figures_of(tasks_[i]);
      const std::lock_guard lock(telling_);
      ++done_;
      if (options_.progress) options_.progress(stage_, done_, static_cast<int>(tasks_.size()));
    }
  } catch (...) {
    const std::lock_guard lock(telling_);
    if (!failure_) failure_ = std::current_exception();
    next_ = tasks_.size();
  }

  /// A mesh that cannot be made is a design that cannot be computed, no reason to end it all.
  static std::optional<DesignFigures> figures_of(const DesignTask& task) try {
    return design_figures(task.c, task.set);
  } catch (const std::runtime_error&) {
    return std::nullopt;
  }

  const std::vector<DesignTask>& tasks_;
  const std::string& stage_;
  const RunOptions& options_;
  std::vector<std::optional<DesignFigures>> figures_;
  std::atomic<std::size_t> next_ = 0;
  std::mutex telling_;
  int done_ = 0;
  std::exception_ptr failure_;
};

}  // namespace

std::vector<std::optional<DesignFigures>> worked_off(const std::vector<DesignTask>& tasks,
                                                     const std::string& stage,
                                                     const RunOptions& options) {
  return Workers(tasks, stage, options).run();
}

}  // namespace lodegear
