// solver/motion/sweep.cpp — the field at many positions, in parallel, same bits on any machine
// load. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/sweep.h"

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
  Workers(const FieldSolver& solver, const std::vector<Positions>& curves,
          const SweepOptions& options)
      : solver_(solver), curves_(curves), options_(options) {
    for (std::size_t c = 0; c < curves.size(); ++c) {
      solutions_.emplace_back(curves[c].size());
      total_ += static_cast<int>(curves[c].size());
      for (std::size_t i = 0; i < curves[c].size(); i += block_length)
        blocks_.push_back({c, i, std::min(i + block_length, curves[c].size())});
    }
  }

  std::vector<std::vector<FieldSolution>> run() {
    const int n_blocks = static_cast<int>(blocks_.size());
    const int n_threads = std::clamp(options_.threads, 1, std::max(1, n_blocks));
    {
      std::vector<std::jthread> others;
      for (int i = 1; i < n_threads; ++i) others.emplace_back([this] { work(); });
      work();
    }
    if (failure_) std::rethrow_exception(failure_);
    return std::move(solutions_);
  }

 private:
  struct Block {
    std::size_t curve, begin, end;
  };

  void work() try {
    hold_to_one_thread();
    for (std::size_t b = next_block_++; b < blocks_.size(); b = next_block_++)
      run_block(blocks_[b]);
  } catch (...) {
    const std::lock_guard lock(telling_);
    if (!failure_) failure_ = std::current_exception();
    next_block_ = blocks_.size();
  }

  void run_block(const Block& block) {
    SolverState cold;
    for (std::size_t i = block.begin; i < block.end; ++i) {
      FieldSolution& solution = solutions_[block.curve][i];
      solution = solver_.solve(curves_[block.curve][i], cold);
      const bool first = block.curve == 0 && i == 0;
      if (options_.keep == KeepPotentials::every ||
          (options_.keep == KeepPotentials::first && first))
        solver_.fill_potentials(solution);
      solution.reduced.reset();
      const std::lock_guard lock(telling_);
      ++done_;
      if (options_.progress) options_.progress(done_, total_);
    }
  }

  const FieldSolver& solver_;
  const std::vector<Positions>& curves_;
  const SweepOptions& options_;
  std::vector<std::vector<FieldSolution>> solutions_;
  std::vector<Block> blocks_;
  std::atomic<std::size_t> next_block_ = 0;
  std::mutex telling_;
  int done_ = 0, total_ = 0;
  std::exception_ptr failure_;
};

}  // namespace

std::vector<std::vector<FieldSolution>> sweep(const FieldSolver& solver,
                                              const std::vector<Positions>& curves,
                                              const SweepOptions& options) {
  return Workers(solver, curves, options).run();
}

std::vector<FieldSolution> sweep_curve(const FieldSolver& solver, const Positions& positions,
                                       const SweepOptions& options) {
  return std::move(sweep(solver, {positions}, options).front());
}

}  // namespace lodegear
