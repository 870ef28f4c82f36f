// cases/curve_work.cpp — positions of a case solved on one mesh after another, with one progress.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/curve_work.h"

#include <algorithm>

#include "solver/gap/gap_field.h"

namespace lodegear {

namespace {

/// The first `n` orders of a gap's field.
GapField with_orders(const GapField& gap, Eigen::Index n) {
  const auto first = [n](const Eigen::VectorXd& all) {
    const Eigen::Index given = all.size() / 2, kept = std::min(n, given);
    Eigen::VectorXd some(2 * kept);
    some << all.head(kept), all.segment(given, kept);
    return some;
  };
  return {gap.r_inner, gap.r_outer, first(gap.at_inner), first(gap.at_outer)};
}

/// N/m, from the orders that tie the gap: a solution whose potentials are kept shows more of them,
/// and keeping them must not change a figure.
Eigen::Vector2d force(const FieldSolver& solver, const FieldSolution& s, std::size_t gap) {
  return gap_force(with_orders(s.gaps[gap], solver.problem().gaps[gap].orders));
}

}  // namespace

KeepPotentials CurveWork::keep(const std::vector<FieldSolution>* kept) const {
  if (!kept) return KeepPotentials::none;
  if (case_.output.keep_fields == KeptFields::every_position) return KeepPotentials::every;
  return case_.output.keep_fields == KeptFields::first_position && kept->empty()
             ? KeepPotentials::first
             : KeepPotentials::none;
}

std::vector<std::vector<CurvePoint>> CurveWork::curves(const FieldSolver& solver,
                                                       const std::string& stage,
                                                       const std::vector<Positions>& lists,
                                                       std::vector<FieldSolution>* kept,
                                                       bool keep_all) {
  int positions = 0;
  for (const Positions& list : lists) positions += static_cast<int>(list.size());
  total_ = std::max(total_, done_ + positions);
  SweepOptions sweep_options;
  sweep_options.threads = options_.threads;
  sweep_options.keep = keep_all ? KeepPotentials::every : keep(kept);
  sweep_options.progress = [&](int done, int) {
    if (options_.progress) options_.progress(stage, done_ + done, total_);
  };
  std::vector<std::vector<CurvePoint>> result;
  for (std::vector<FieldSolution>& solutions : sweep(solver, lists, sweep_options)) {
    result.emplace_back();
    for (FieldSolution& solution : solutions) {
      result.back().push_back(point(solver, solution));
      if (kept && solution.summary.converged && !solution.a.empty())
        kept->push_back(std::move(solution));
    }
  }
  done_ += positions;
  return result;
}

CurvePoint CurveWork::point(const FieldSolver& solver, const FieldSolution& s) const {
  CurvePoint p;
  p.position = s.position;
  p.load_angle = load_angle(pole_counts(case_.gear), s.position);
  p.torque = {s.torque_sun * length_, s.torque_modulator * length_, s.torque_ring * length_};
  if (case_.gear.sun && !s.gaps.empty()) p.pull_on_sun = force(solver, s, 0) * length_;
  if (case_.gear.ring && !s.gaps.empty())
    p.pull_on_ring = -force(solver, s, s.gaps.size() - 1) * length_;
  p.summary = s.summary;
  return p;
}

}  // namespace lodegear
