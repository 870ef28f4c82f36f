// cases/curve_work.h — positions of a case solved on one mesh after another, with one progress.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cases/case_result.h"
#include "cases/run_case.h"
#include "solver/motion/sweep.h"

namespace lodegear {

/// Solves lists of positions and makes rows of torque curves of the solutions.
class CurveWork {
 public:
  /// `c` and `options` must outlive this; `length` is the common stack length, m.
  CurveWork(const Case& c, const RunOptions& options, double length)
      : case_(c), options_(options), length_(length) {}

  /// How many positions are to come at least, for the progress.
  void expect(std::size_t positions) { total_ += static_cast<int>(positions); }

  /// One curve a list. Solutions whose potentials are asked for, or all, go to `kept`, if there
  /// is one.
  std::vector<std::vector<CurvePoint>> curves(const FieldSolver& solver, const std::string& stage,
                                              const std::vector<Positions>& lists,
                                              std::vector<FieldSolution>* kept,
                                              bool keep_all = false);

 private:
  KeepPotentials keep(const std::vector<FieldSolution>* kept) const;
  CurvePoint point(const FieldSolver& solver, const FieldSolution& s) const;

  const Case& case_;
  const RunOptions& options_;
  double length_;
  int done_ = 0, total_ = 0;
};

}  // namespace lodegear
