// cases/run_case.cpp — the story of a case: meshes, field, sweeps, figures.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/run_case.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>

#include "cases/accuracy.h"
#include "cases/axial.h"
#include "cases/curve_work.h"
#include "cases/members.h"
#include "cases/remarks.h"
#include "cases/slip_figures.h"
#include "materials/constants.h"
#include "mesh/ladder.h"
#include "solver/motion/positions.h"

namespace lodegear {

PoleCounts pole_counts(const Gear& gear) {
  PoleCounts counts;
  if (gear.sun) counts.sun = gear.sun->pole_pairs;
  if (gear.modulator) counts.pole_pieces = gear.modulator->pole_pieces;
  if (gear.ring) counts.ring = gear.modulator ? gear.ring->pole_pairs : -gear.ring->pole_pairs;
  return counts;
}

namespace {

bool mirror_poles(const MagnetRotor& rotor) {
  if (!rotor.odd_magnets.empty()) return false;
  const int per_pair = n_magnets(rotor) / rotor.pole_pairs;
  if (per_pair % 2 != 0) return false;
  for (int i = 0; i < per_pair / 2; ++i) {
    const Magnetisation here = magnetisation(rotor, i);
    const Magnetisation next = magnetisation(rotor, i + per_pair / 2);
    if (here.law != Magnetisation::Law::uniform) continue;  // radial and continuous are, by build
    const double turn = next.angle - here.angle - pi / rotor.pole_pairs - pi;
    if (std::abs(std::remainder(turn, 2 * pi)) > 1e-9) return false;
  }
  return true;
}

std::vector<Position> slip_list(const Case& c, const PoleCounts& counts) {
  const SlipTask& task = *c.slip;
  std::vector<Position> period =
      slip_positions(counts, task.turned, task.positions_per_period, start_position(c.gear));
  const double step = 2 * pi / task.positions_per_period;
  const int n = static_cast<int>(std::lround(task.last_load_angle / step));
  std::vector<Position> list;
  for (int i = 0; i < std::max(n, 1) + (n < task.positions_per_period ? 1 : 0); ++i) {
    Position p = period[static_cast<std::size_t>(i % task.positions_per_period)];
    const int full_periods = i / task.positions_per_period;
    member_angle(p, task.turned) += 2 * pi * full_periods / electrical_factor(counts, task.turned);
    list.push_back(p);
  }
  return list;
}

int cycle_turns(const Case& c) {
  // A sun turn brings sun and modulator back; an odd magnet of the ring must come back too.
  const bool odd_ring = c.gear.ring && !c.gear.ring->odd_magnets.empty();
  return odd_ring
             ? c.gear.ring->pole_pairs / std::gcd(c.gear.sun->pole_pairs, c.gear.ring->pole_pairs)
             : 1;
}

struct RunningPlan {
  int ripples_per_turn = 0;
  double turn = 0.0;  // of the sun relative to the modulator, rad
  int positions = 0;
};

RunningPlan running_plan(const Case& c, const PoleCounts& counts) {
  RunningPlan plan;
  plan.ripples_per_turn = ripples_per_turn(counts, mirror_poles(c.gear));
  const int periods = c.running->full_cycle ? plan.ripples_per_turn * cycle_turns(c) : 1;
  plan.turn = 2 * pi * periods / plan.ripples_per_turn;
  plan.positions = periods * c.running->positions_per_ripple;
  return plan;
}

Positions running_list(const Case& c, const PoleCounts& counts, double delta) {
  const RunningPlan plan = running_plan(c, counts);
  return running_positions(counts, c.running->held, delta, plan.turn, plan.positions);
}

RunningCurve running_curve(const Case& c, const PoleCounts& counts, double delta,
                           std::vector<CurvePoint> points) {
  RunningCurve curve;
  curve.load_angle = delta;
  curve.ripples_per_turn = running_plan(c, counts).ripples_per_turn;
  curve.full_cycle = c.running->full_cycle;
  curve.points = std::move(points);
  if (!all_converged(curve.points)) return curve;
  curve.ripple.emplace();
  for (Member m : {Member::sun, Member::modulator, Member::ring})
    (*curve.ripple)[static_cast<std::size_t>(m)] = ripple(torques(curve.points, m));
  return curve;
}

/// How often cogging comes while one member is turned through a period of the load angle.
int coggings_per_period(const Gear& gear, Member turned) {
  if (!gear.modulator || (!gear.sun && !gear.ring)) return 0;
  const MagnetRotor& rotor = turned == Member::ring || !gear.sun ? *gear.ring : *gear.sun;
  const int n = gear.modulator->pole_pieces;
  const int coggings = std::lcm((mirror_poles(rotor) ? 2 : 1) * rotor.pole_pairs, n);
  return coggings / (turned == Member::modulator ? n : rotor.pole_pairs);
}

int holes(const std::vector<CurvePoint>& points) {
  int n = 0;
  for (const CurvePoint& point : points) n += point.summary.converged ? 0 : 1;
  return n;
}

}  // namespace

bool mirror_poles(const Gear& gear) {
  return (!gear.sun || mirror_poles(*gear.sun)) && (!gear.ring || mirror_poles(*gear.ring));
}

namespace {

// The curves of a case on one mesh, and what a coarser one says about them.
class CaseRun {
 public:
  CaseRun(const Case& c, const RunOptions& options)
      : kept_(options.kept),
        work_(result_.input, options, length_of(c)),
        judging_(options.judging) {
    result_.input = c;
    result_.version = LODEGEAR_VERSION;
    result_.counts = pole_counts(c.gear);
    result_.stack_length = length_of(c);
    result_.remarks = remarks(c);
    if (c.gear.sun && c.gear.modulator && c.gear.ring)
      result_.speed_ratios = speed_ratios(result_.counts);
    result_.clearances = gap_clearances(c.gear);
    asked_positions_ = c.slip ? c.slip->positions_per_period : chosen;
    asked_ripple_positions_ = c.running ? c.running->positions_per_ripple : chosen;
    if (options.progress) options.progress("meshes", 0, 0);
  }

  CaseResult run() {
    const std::optional<double> accuracy = result_.input.accuracy.part;
    if (accuracy && result_.input.slip) {
      refine(*accuracy);
    } else {
      use(prepared_case(result_.input, kept_));
      slip();
      running();
    }
    count_holes();
    return std::move(result_);
  }

 private:
  static double length_of(const Case& c) { return common_extent(c.gear).length(); }

  void refine(double accuracy) {
    if (!scout()) {  // with holes there is nothing to compare
      use(rung(first_level(accuracy)));
      slip();
      running();
      return;
    }
    for (double level = first_level(accuracy);; level = next_level(level, error(), accuracy)) {
      result_.rungs.push_back({level});
      if (!compare_slip(level)) break;
      if (level < highest_level && error() > accuracy) continue;
      compute_at(level);
      if (level >= highest_level || error() <= accuracy) return;
    }
    compute_at(result_.rungs.back().level);
  }

  void compute_at(double level) {
    use(rung(level));
    slip();
    add_slip_error();
    running();
    compare_running(level);
  }

  /// A look from a low rung: how many positions the slip curve needs and where its peak lies.
  /// False if a position has no solution.
  bool scout() {
    use(rung(0.0));
    slip(judging_ ? Look::quick : Look::whole);
    if (!result_.slip_torque) return false;
    if (!judging_) scouted_positions_ = result_.input.slip->positions_per_period;
    scouted_peak_ = result_.slip_torque->peak;
    for (const std::size_t i :
         points_to_compare(result_.slip_curve, result_.slip_torque->load_angle))
      compared_positions_.push_back(result_.slip_curve[i].position);
    return true;
  }

  /// The worst bar so far, part of the slip torque.
  double error() const {
    return std::max(result_.rungs.back().slip_error, result_.rungs.back().ripple_error);
  }

  bool carries_ripple() const {
    const Case& c = result_.input;
    const int order = ripple_order(c.gear);
    if (order == 0 || order > highest_ripple_order) return false;
    return c.running || ripple_bound(c.gear) > 0.5 * c.accuracy.part.value_or(usual_accuracy);
  }

  /// Kept while it can be compared with.
  const PreparedCase& rung(double level) {
    std::erase_if(ready_, [&](const auto& r) { return r.first < level - 0.5 * (bar_rungs - 1); });
    const auto found = ready_.find(level);
    if (found != ready_.end()) return found->second;
    const Resolution resolution = resolution_for(result_.input.gear, level, carries_ripple());
    return ready_.emplace(level, prepared_case(result_.input, resolution, {}, kept_)).first->second;
  }

  void use(const PreparedCase& prepared) {
    result_.plan = prepared.plan;
    result_.meshes = prepared.meshes;
    result_.solver = prepared.solver;
    result_.unknowns = prepared.solver->n_unknowns();
    result_.kept.clear();
    result_.running_curves.clear();
    result_.at_slip.reset();
  }

  std::vector<std::vector<CurvePoint>> curves(const std::string& stage,
                                              const std::vector<Positions>& lists) {
    return work_.curves(*result_.solver, stage, lists, &result_.kept);
  }

  // ---- the slip curve ---------------------------------------------------------------------------

  /// A quick look is enough to find the peaks' place and height.
  enum class Look { whole, quick };

  void slip(Look look = Look::whole) {
    const Case& c = result_.input;
    if (!c.slip) {
      if (!c.running)
        result_.slip_curve = std::move(curves("torque", {{start_position(c.gear)}}).front());
      return;
    }
    if (asked_positions_ != chosen)
      slip_curve_of(asked_positions_, look);
    else if (!whole_period())
      slip_curve_of(48, look);
    else if (look == Look::quick)
      slip_curve_of(enough_to_judge, look);
    else
      slip_curve_of_as_many_as_needed();
    result_.slip_torque = slip_torque(c, result_.slip_curve);
    if (look == Look::whole) find_peaks();
    result_.stiffness = stiffness(c, result_.counts, result_.slip_curve);
  }

  /// Whether the slip curve is one period and no more.
  bool whole_period() const {
    return std::abs(result_.input.slip->last_load_angle - 2 * pi) < 1e-9;
  }

  void slip_curve_of(int positions, Look look = Look::whole) {
    result_.input.slip->positions_per_period = positions;
    result_.kept.clear();
    const Positions list = slip_list(result_.input, result_.counts);
    result_.slip_curve = std::move(work_
                                       .curves(*result_.solver, "slip curve", {list}, &result_.kept,
                                               judging_ && look == Look::whole)
                                       .front());
  }

  // The peaks are solved for; between the other positions the curve may be off by more.
  void slip_curve_of_as_many_as_needed() {
    const double open = 2 * result_.input.accuracy.part.value_or(usual_accuracy);
    const int coggings = coggings_per_period(result_.input.gear, result_.input.slip->turned);
    int n = std::max(scouted_positions_, telling_positions(coggings, fewest_positions));
    for (slip_curve_of(n);
         n < (judging_ ? enough_to_judge : most_positions) && all_converged(result_.slip_curve) &&
         largest_interpolation_error() > open;
         slip_curve_of(n))
      n = std::min(2 * n, most_positions);
  }

  /// Solves about the peaks of the interpolated curve, where that leaves something open.
  void find_peaks() {
    peaks_open_.reset();
    const Case& c = result_.input;
    if (!result_.slip_torque || asked_positions_ != chosen || !whole_period()) return;
    const double open = largest_interpolation_error();
    if (open < 0.05 * c.accuracy.part.value_or(usual_accuracy)) return;
    const Positions list =
        positions_about(c, result_.counts, likely_peaks(c, result_.slip_curve, open));
    const auto points = work_.curves(*result_.solver, "slip torque", {list}, nullptr).front();
    if (all_converged(points)) peaks_open_ = correct_peaks(points, *result_.slip_torque);
  }

  double largest_interpolation_error() const {
    double largest = 0.0;
    for (Member m : members_inside_out)
      largest = std::max(largest, interpolation_error(result_.slip_curve, m));
    return largest;
  }

  /// The positions around the peak at some level, solved once.
  const std::vector<CurvePoint>& compared_points(double level) {
    const auto found = compared_.find(level);
    if (found != compared_.end()) return found->second;
    const PreparedCase& prepared = rung(level);
    auto solved =
        work_.curves(*prepared.solver, "error of the slip torque", {compared_positions_}, nullptr);
    return compared_[level] = std::move(solved.front());
  }

  /// False if there is nothing to compare.
  bool compare_slip(double level) {
    bar_.reset();
    std::vector<std::vector<CurvePoint>> rungs;
    for (int i = 0; i < bar_rungs; ++i) {
      rungs.push_back(compared_points(level - 0.5 * i));
      if (!all_converged(rungs.back())) return false;
    }
    bar_ = slip_torque_bar(rungs);
    const double left_out = carries_ripple() ? 0.0 : ripple_bound(result_.input.gear) / 2;
    for (Member m : members_inside_out)
      of(*bar_, m) += (shortest_bar + left_out) * of(scouted_peak_, m);
    result_.rungs.back().slip_error = worst_part(*bar_, scouted_peak_);
    return true;
  }

  /// With what the positions leave open between them.
  void add_slip_error() {
    if (!result_.slip_torque || !bar_) return;
    SlipTorque& slip = *result_.slip_torque;
    slip.error = bar_;
    for (Member m : members_inside_out)
      of(*slip.error, m) += peaks_open_ ? of(*peaks_open_, m)
                            : whole_period()
                                ? interpolation_error(result_.slip_curve, m) * of(slip.peak, m)
                                : 0.0;
    result_.rungs.back().unknowns = result_.unknowns;
    result_.rungs.back().slip_error = worst_part(*slip.error, slip.peak);
  }

  static double worst_part(const PerMember& bar, const PerMember& whole) {
    double worst = 0.0;
    for (Member m : members_inside_out)
      if (of(whole, m) > 0.0) worst = std::max(worst, of(bar, m) / of(whole, m));
    return worst;
  }

  // ---- running in step --------------------------------------------------------------------------

  void running() {
    if (!result_.input.running) return;
    RunningTask& task = *result_.input.running;
    const bool one_period = !task.full_cycle;
    task.positions_per_ripple = asked_ripple_positions_ != chosen ? asked_ripple_positions_
                                : !one_period                     ? 12
                                                                  : fewest_ripple_positions;
    run_in_step();
    while (asked_ripple_positions_ == chosen && one_period && needs_more_ripple_positions() &&
           task.positions_per_ripple < most_ripple_positions) {
      task.positions_per_ripple *= 2;
      run_in_step();
    }
    if (result_.at_slip) add_mean_and_weakest(*result_.at_slip, *result_.slip_torque);
  }

  void run_in_step() {
    const Case& c = result_.input;
    result_.running_curves.clear();
    std::vector<double> angles = c.running->load_angles;
    if (result_.slip_torque) angles.push_back(result_.slip_torque->load_angle);
    std::vector<Positions> lists;
    for (const double delta : angles) lists.push_back(running_list(c, result_.counts, delta));
    auto found = curves("ripple", lists);
    for (std::size_t i = 0; i < angles.size(); ++i)
      result_.running_curves.push_back(
          running_curve(c, result_.counts, angles[i], std::move(found[i])));
    if (!result_.slip_torque) return;
    result_.at_slip = std::move(result_.running_curves.back());
    result_.running_curves.pop_back();
  }

  std::vector<RunningCurve*> all_running() {
    std::vector<RunningCurve*> all;
    for (RunningCurve& curve : result_.running_curves) all.push_back(&curve);
    if (result_.at_slip) all.push_back(&*result_.at_slip);
    return all;
  }

  /// Whether the last harmonic that the positions of a ripple period tell, which enters the bar of
  /// the ripple twice, is not yet small against what is asked for.
  bool needs_more_ripple_positions() {
    const double accuracy = result_.input.accuracy.part.value_or(usual_accuracy);
    for (const RunningCurve* curve : all_running()) {
      if (!curve->ripple) return false;
      for (Member m : members_inside_out) {
        const Ripple& ripple = (*curve->ripple)[static_cast<std::size_t>(m)];
        const double last = ripple.amplitudes.empty() ? 0.0 : ripple.amplitudes.back();
        const double slip = result_.slip_torque ? of(result_.slip_torque->peak, m) : 0.0;
        if (last > 0.1 * accuracy * slip) return true;
      }
    }
    return false;
  }

  void compare_running(double level) {
    if (!result_.input.running || !result_.slip_torque) return;
    if (carries_ripple())
      compare_ripples(level);
    else
      bound_ripples();
  }

  void compare_ripples(double level) {
    std::vector<Positions> lists;
    std::vector<std::vector<std::vector<CurvePoint>>> rungs;  // of each curve, the finest first
    for (const RunningCurve* curve : all_running()) {
      lists.emplace_back();
      for (const CurvePoint& point : curve->points) lists.back().push_back(point.position);
      rungs.push_back({curve->points});
    }
    for (int i = 1; i < bar_rungs; ++i) {
      auto coarse =
          work_.curves(*rung(level - 0.5 * i).solver, "error of the ripple", lists, nullptr);
      for (std::size_t j = 0; j < coarse.size(); ++j) rungs[j].push_back(std::move(coarse[j]));
    }
    for (std::size_t i = 0; i < rungs.size(); ++i) {
      RunningCurve& curve = *all_running()[i];
      if (!std::all_of(rungs[i].begin(), rungs[i].end(), all_converged)) continue;
      curve.ripple_error = ripple_bar(rungs[i]);
      for (Member m : members_inside_out) {
        const double slip = of(result_.slip_torque->peak, m);
        of(*curve.ripple_error, m) += ripple_cut_off * slip;
        if (slip > 0.0)
          result_.rungs.back().ripple_error =
              std::max(result_.rungs.back().ripple_error, of(*curve.ripple_error, m) / slip);
      }
    }
  }

  void bound_ripples() {
    const double bound = ripple_bound(result_.input.gear);
    SlipTorque& slip = *result_.slip_torque;
    for (RunningCurve* curve : all_running()) {
      curve->ripple_below.emplace();
      for (Member m : members_inside_out) of(*curve->ripple_below, m) = bound * of(slip.peak, m);
    }
    if (!slip.mean || !slip.weakest) return;
    for (Member m : members_inside_out)
      of(*slip.weakest, m) = of(*slip.mean, m) - bound / 2 * of(slip.peak, m);
  }

  void count_holes() {
    result_.not_converged = holes(result_.slip_curve);
    for (const RunningCurve* curve : all_running()) result_.not_converged += holes(curve->points);
  }

  static constexpr int fewest_positions = 20, enough_to_judge = 24, most_positions = 192;
  static constexpr int fewest_ripple_positions = 6, most_ripple_positions = 48;

  CaseResult result_;
  KeptParts* kept_;
  CurveWork work_;
  bool judging_ = false;
  int asked_positions_ = chosen, asked_ripple_positions_ = chosen;
  int scouted_positions_ = 0;
  PerMember scouted_peak_{};
  Positions compared_positions_;
  std::map<double, PreparedCase> ready_;                // by level
  std::map<double, std::vector<CurvePoint>> compared_;  // by level
  std::optional<PerMember> bar_;                        // N·m, of the last level compared
  std::optional<PerMember> peaks_open_;                 // N·m, where peaks were solved for
};

}  // namespace

CaseResult run_case(const Case& c, const RunOptions& options) { return CaseRun(c, options).run(); }

}  // namespace lodegear
