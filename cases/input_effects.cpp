// cases/input_effects.cpp — what a small change of each input does to the slip torque and to the
// requirement that decides. SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input_effects.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <exception>
#include <mutex>
#include <stdexcept>
#include <thread>

#include "cases/axial.h"
#include "cases/run_case.h"
#include "cases/slip_figures.h"
#include "materials/constants.h"
#include "mesh/check_gear.h"
#include "solver/linear/one_thread.h"
#include "solver/motion/sweep.h"

namespace lodegear {

namespace {

/// A figure of a changed case, or why there is none.
struct Outcome {
  double value = 0.0;
  std::string why_none;
};

Outcome outcome(const Case& base, const Nudge& nudge, double change,
                const FigureOfCase& figure) try {
  Case changed = base;
  nudge.apply(changed, change);
  const std::vector<Complaint> complaints = check_gear(changed.gear);
  if (!complaints.empty()) return {0.0, complaints.front().text};
  return {figure(changed), {}};
} catch (const std::exception& error) {
  return {0.0, error.what()};
}

/// Where one side cannot be: the other one, open by what half of the way says otherwise.
FoundSlope one_sided(const Case& c, const Nudge& nudge, double base, const FigureOfCase& figure,
                     double change, double value) {
  FoundSlope found;
  found.slope = nudge.step / change * (value - base);
  const Outcome half = outcome(c, nudge, change / 2, figure);
  found.open = half.why_none.empty()
                   ? std::abs(found.slope - 2 * nudge.step / change * (half.value - base))
                   : std::abs(found.slope);
  return found;
}

FoundSlope slope_of(const Case& c, const Nudge& nudge, double base, const FigureOfCase& figure,
                    const Outcome& less, const Outcome& more) {
  FoundSlope found;
  const double scale = nudge.step / nudge.difference;
  const double backward = scale * (base - less.value), forward = scale * (more.value - base);
  if (!less.why_none.empty() && !more.why_none.empty()) {
    found.why_none = more.why_none;
  } else if (!less.why_none.empty()) {
    return one_sided(c, nudge, base, figure, nudge.difference, more.value);
  } else if (!more.why_none.empty()) {
    return one_sided(c, nudge, base, figure, -nudge.difference, less.value);
  } else {
    found.slope = 0.5 * (forward + backward);
    found.open = 0.5 * std::abs(forward - backward);
  }
  return found;
}

}  // namespace

std::vector<FoundSlope> slopes(const Case& c, const std::vector<Nudge>& nudges, double base,
                               const FigureOfCase& figure, const RunOptions& options) {
  std::vector<std::array<Outcome, 2>> outcomes(nudges.size());
  const std::size_t n = 2 * nudges.size();
  std::atomic<std::size_t> next = 0;
  int done = 0;
  std::mutex telling;
  std::exception_ptr stopped;  // by the progress
  const auto work = [&] {
    hold_to_one_thread();
    for (std::size_t i = next++; i < n; i = next++) {
      const Nudge& nudge = nudges[i / 2];
      outcomes[i / 2][i % 2] =
          outcome(c, nudge, i % 2 == 0 ? -nudge.difference : nudge.difference, figure);
      const std::lock_guard lock(telling);
      try {
        if (options.progress && !stopped)
          options.progress("small changes of the inputs", ++done, static_cast<int>(n));
      } catch (...) {
        stopped = std::current_exception();
        next = n;
      }
    }
  };
  {
    std::vector<std::jthread> others;
    for (int i = 1; i < options.threads; ++i) others.emplace_back(work);
    work();
  }
  if (stopped) std::rethrow_exception(stopped);
  std::vector<FoundSlope> found;
  for (std::size_t i = 0; i < nudges.size(); ++i)
    found.push_back(slope_of(c, nudges[i], base, figure, outcomes[i][0], outcomes[i][1]));
  return found;
}

double torque_at(const Case& c, const Resolution& resolution, Member output, double delta) {
  const PoleCounts counts = pole_counts(c.gear);
  const Member turned = c.slip->turned;
  Position p = start_position(c.gear);
  member_angle(p, turned) += (delta - load_angle(counts, p)) / electrical_factor(counts, turned);
  const PreparedCase prepared = prepared_case(c, resolution);
  const FieldSolution s = sweep_curve(*prepared.solver, {p}, {}).front();
  if (!s.summary.converged) throw std::runtime_error("its field has no solution");
  return common_extent(c.gear).length() * std::abs(output == Member::sun ? s.torque_sun
                                                   : output == Member::modulator
                                                       ? s.torque_modulator
                                                       : s.torque_ring);
}

}  // namespace lodegear
