// solver/motion/sweep.cpp — the field at many positions, in parallel, same bits on any machine
// load. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/sweep.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

namespace lodegear {

namespace {

class Workers {
 public:
  Workers(const FieldSolver& solver, const std::vector<Position>& positions,
          const SweepOptions& options)
      : solver_(solver), positions_(positions), options_(options), solutions_(positions.size()) {}

  std::vector<FieldSolution> run() {
    const int n_threads = std::clamp(options_.threads, 1, std::max(1, n_blocks()));
    {
      std::vector<std::jthread> others;
      for (int i = 1; i < n_threads; ++i) others.emplace_back([this] { work(); });
      work();
    }
    if (failure_) std::rethrow_exception(failure_);
    return std::move(solutions_);
  }

 private:
  int n_positions() const { return static_cast<int>(positions_.size()); }
  int n_blocks() const { return (n_positions() + block_length - 1) / block_length; }

  void work() try {
    for (int block = next_block_++; block < n_blocks(); block = next_block_++) run_block(block);
  } catch (...) {
    const std::lock_guard lock(telling_);
    if (!failure_) failure_ = std::current_exception();
    next_block_ = n_blocks();
  }

  void run_block(int block) {
    SolverState cold;
    const int end = std::min(n_positions(), (block + 1) * block_length);
    for (int i = block * block_length; i < end; ++i) {
      FieldSolution& solution = solutions_[static_cast<std::size_t>(i)];
      solution = solver_.solve(positions_[static_cast<std::size_t>(i)], cold);
      if (options_.keep_potentials) solver_.fill_potentials(solution);
      const std::lock_guard lock(telling_);
      ++done_;
      if (options_.progress) options_.progress(done_, n_positions());
    }
  }

  const FieldSolver& solver_;
  const std::vector<Position>& positions_;
  const SweepOptions& options_;
  std::vector<FieldSolution> solutions_;
  std::atomic<int> next_block_ = 0;
  std::mutex telling_;
  int done_ = 0;
  std::exception_ptr failure_;
};

}  // namespace

std::vector<FieldSolution> sweep(const FieldSolver& solver, const std::vector<Position>& positions,
                                 const SweepOptions& options) {
  return Workers(solver, positions, options).run();
}

}  // namespace lodegear
