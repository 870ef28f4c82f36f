// cases/choosing/design.cpp — what a drawn gear holds, weighs and costs, computed quickly.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/design.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "cases/accuracy.h"
#include "cases/axial.h"
#include "cases/ends_of_case.h"
#include "cases/run_case.h"
#include "cases/thermal_of_case.h"
#include "materials/constants.h"
#include "mesh/ladder.h"
#include "solver/gap/gap_field.h"
#include "solver/post/end_effect.h"

namespace lodegear {

namespace {

constexpr double step = 25.0 * pi / 180.0;  // of the load angle
constexpr int most_positions = 7;           // from 15° to 165°
constexpr double solver_tolerance = 1e-4;
constexpr double noticeable_ripple = 0.01;  // part of slip torque
constexpr int most_newton_steps = 100;

struct Peak {
  double torque = 0.0;     // N·m/m, on the output
  double side_pull = 0.0;  // N/m
};

/// The top of the parabola through three even steps, the middle one highest.
double parabola_top(double before, double top, double after) {
  const double bend = before - 2 * top + after;
  return bend >= 0 ? top : top - (after - before) * (after - before) / (8 * bend);
}

/// Follows the slip curve from about 90° to its top.
class PeakSearch {
 public:
  PeakSearch(const Case& c, const PoleSet& set, const FieldSolver& solver)
      : case_(c), set_(set), solver_(solver) {}

  std::optional<Peak> run() {
    for (const int i : {middle, middle - 1, middle + 1})
      if (!solve(i)) return std::nullopt;
    int top = highest();
    while (top > 0 && top < most_positions - 1 && (at(top - 1) == 0.0 || at(top + 1) == 0.0)) {
      if (!solve(at(top - 1) == 0.0 ? top - 1 : top + 1)) return std::nullopt;
      top = highest();
    }
    peak_.torque = top == 0 || top == most_positions - 1
                       ? at(top)
                       : parabola_top(at(top - 1), at(top), at(top + 1));
    return peak_;
  }

 private:
  static constexpr int middle = most_positions / 2;

  double at(int i) const { return torque_[static_cast<std::size_t>(i)]; }
  int highest() const {
    return static_cast<int>(std::max_element(torque_.begin(), torque_.end()) - torque_.begin());
  }

  // Where cogging may be felt the mean over its lowest order: two positions in step, half of its
  // period apart.
  bool solve(int i) {
    const double delta = pi / 2 + (i - middle) * step;
    const int n = ripple_bound(case_.gear) > noticeable_ripple ? 2 : 1;
    double sum = 0.0;
    for (int k = 0; k < n; ++k) {
      const double phase = k * pi / coggings_per_turn(set_.counts, Member::sun);
      const Position p = synchronous_position(set_.counts, Member::modulator, delta, phase);
      const FieldSolution s = solver_.solve(p);  // from no field: quicker than from a step aside
      if (!s.summary.converged) return false;
      sum += s.torque(set_.drive.output);
      for (const GapField& gap : s.gaps)
        peak_.side_pull = std::max(peak_.side_pull, gap_force(gap).norm());
    }
    torque_[static_cast<std::size_t>(i)] = std::abs(sum / n);
    return true;
  }

  const Case& case_;
  const PoleSet& set_;
  const FieldSolver& solver_;
  std::array<double, most_positions> torque_{};  // 0 = not solved
  Peak peak_;
};

}  // namespace

double DesignFigures::length_for(double wished) const {
  const double effective = wished / (plane_torque / length);
  const double d = length * std::max(1.0 / ends - 1.0, 0.0);
  return 0.5 * (effective + std::sqrt(effective * effective + 4 * d * effective));
}

std::optional<DesignFigures> design_figures(const Case& c, const PoleSet& set) {
  SolverOptions options;
  options.tolerance = solver_tolerance;
  options.most_iterations = most_newton_steps;
  CaseResult result;  // as much of one as the masses ask for
  result.input = c;
  result.solver = prepared_case(c, resolution_for(c.gear, 0.0, false), options).solver;
  const auto peak = PeakSearch(c, set, *result.solver).run();
  if (!peak) return std::nullopt;

  DesignFigures figures;
  figures.length = common_extent(c.gear).length();
  figures.plane_torque = peak->torque * figures.length;
  figures.side_pull = peak->side_pull * figures.length;
  if (const auto input = ends_input(c)) {
    const EndEffect ends = end_effect(*input);
    figures.ends = ends.ratio;
    figures.ends_low = ends.low;
    figures.ends_high = ends.high;
  }
  const double diameter = outer_diameter(c.gear);
  figures.volume = pi / 4 * diameter * diameter * figures.length;
  for (const PartMass& part : active_masses(result)) {
    figures.active_mass += part.count * part.one;
    if (part.part == "magnet") figures.magnet_mass += part.count * part.one;
  }
  figures.cogging_below = ripple_bound(c.gear);
  return figures;
}

}  // namespace lodegear
