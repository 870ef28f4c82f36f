// cases/run_case.cpp — the story of a case: meshes, field, sweeps, figures.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/run_case.h"

#include <cmath>
#include <numeric>

#include "cases/axial.h"
#include "cases/field_materials.h"
#include "cases/remarks.h"
#include "cases/slip_figures.h"
#include "materials/constants.h"
#include "solver/gap/gap_field.h"
#include "solver/motion/positions.h"
#include "solver/motion/sweep.h"

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

// The positions asked for, some curves at a time.
class Work {
 public:
  Work(const FieldSolver& solver, const Case& c, const RunOptions& options, double length)
      : solver_(solver), case_(c), options_(options), length_(length) {}

  void expect(std::size_t positions) { total_ += static_cast<int>(positions); }

  std::vector<std::vector<CurvePoint>> curves(const std::string& stage,
                                              const std::vector<Positions>& lists,
                                              std::vector<FieldSolution>& kept) {
    SweepOptions sweep_options;
    sweep_options.threads = options_.threads;
    sweep_options.keep = case_.output.keep_fields == KeptFields::every_position
                             ? KeepPotentials::every
                         : case_.output.keep_fields == KeptFields::first_position && kept.empty()
                             ? KeepPotentials::first
                             : KeepPotentials::none;
    int done_here = 0;
    sweep_options.progress = [&](int done, int) {
      done_here = done;
      if (options_.progress) options_.progress(stage, done_ + done, total_);
    };
    std::vector<std::vector<CurvePoint>> result;
    for (std::vector<FieldSolution>& solutions : sweep(solver_, lists, sweep_options)) {
      result.emplace_back();
      for (FieldSolution& solution : solutions) {
        result.back().push_back(point(solution));
        if (solution.summary.converged && !solution.a.empty()) kept.push_back(std::move(solution));
      }
    }
    done_ += done_here;
    return result;
  }

 private:
  CurvePoint point(const FieldSolution& s) const {
    CurvePoint p;
    p.position = s.position;
    p.load_angle = load_angle(pole_counts(case_.gear), s.position);
    p.torque = {s.torque_sun * length_, s.torque_modulator * length_, s.torque_ring * length_};
    if (case_.gear.sun && !s.gaps.empty()) p.pull_on_sun = force(s, 0) * length_;
    if (case_.gear.ring && !s.gaps.empty()) p.pull_on_ring = -force(s, s.gaps.size() - 1) * length_;
    p.summary = s.summary;
    return p;
  }

  /// N/m, from the orders that tie the gap: a solution whose potentials are kept shows more of
  /// them, and keeping them must not change a figure.
  Eigen::Vector2d force(const FieldSolution& s, std::size_t gap) const {
    return gap_force(with_orders(s.gaps[gap], solver_.problem().gaps[gap].orders));
  }

  const FieldSolver& solver_;
  const Case& case_;
  const RunOptions& options_;
  double length_;
  int done_ = 0, total_ = 0;
};

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

int holes(const std::vector<CurvePoint>& points) {
  int n = 0;
  for (const CurvePoint& point : points) n += point.summary.converged ? 0 : 1;
  return n;
}

}  // namespace

bool mirror_poles(const Gear& gear) {
  return (!gear.sun || mirror_poles(*gear.sun)) && (!gear.ring || mirror_poles(*gear.ring));
}

PreparedCase prepared_case(const Case& c) {
  PreparedCase prepared;
  prepared.plan = mesh_plan(c.gear, c.resolution);
  std::vector<MemberMesh> meshes = member_meshes(c.gear, prepared.plan);
  for (const MemberMesh& mesh : meshes)
    prepared.meshes.push_back({mesh.member, static_cast<int>(mesh.nodes.rows()),
                               static_cast<int>(mesh.triangles.rows()), mesh.n_sectors,
                               mesh.quality});
  FieldProblem problem =
      field_problem(c.gear, std::move(meshes), prepared.plan, field_materials(c));
  problem.applied_field = c.applied_field;
  prepared.solver = std::make_shared<FieldSolver>(std::move(problem));
  return prepared;
}

CaseResult run_case(const Case& c, const RunOptions& options) {
  CaseResult result;
  result.input = c;
  result.version = LODEGEAR_VERSION;
  result.counts = pole_counts(c.gear);
  result.stack_length = common_extent(c.gear).length();
  result.remarks = remarks(c);
  const bool gear = c.gear.sun && c.gear.modulator && c.gear.ring;
  if (gear) result.speed_ratios = speed_ratios(result.counts);

  if (options.progress) options.progress("meshes", 0, 0);
  PreparedCase prepared = prepared_case(c);
  result.plan = prepared.plan;
  result.meshes = prepared.meshes;
  result.solver = prepared.solver;
  result.unknowns = prepared.solver->n_unknowns();
  result.clearances = gap_clearances(c.gear);

  // All curves but one are worked off together; where the gear slips is known only after the first.
  std::vector<Positions> lists;
  if (c.slip) lists.push_back(slip_list(c, result.counts));
  if (c.running)
    for (double delta : c.running->load_angles)
      lists.push_back(running_list(c, result.counts, delta));
  if (lists.empty()) lists.push_back({start_position(c.gear)});

  Work work(*result.solver, c, options, result.stack_length);
  for (const Positions& list : lists) work.expect(list.size());
  if (c.slip && c.running) work.expect(running_list(c, result.counts, 0.0).size());
  std::vector<std::vector<CurvePoint>> curves = work.curves("torque curves", lists, result.kept);

  std::size_t next = 0;
  if (c.slip || !c.running) result.slip_curve = std::move(curves[next++]);
  if (c.slip) {
    result.slip_torque = slip_torque(c, result.slip_curve);
    result.stiffness = stiffness(c, result.counts, result.slip_curve);
  }
  if (c.running)
    for (double delta : c.running->load_angles)
      result.running_curves.push_back(
          running_curve(c, result.counts, delta, std::move(curves[next++])));
  if (c.running && result.slip_torque) {
    const double delta = result.slip_torque->load_angle;
    auto at_slip =
        work.curves("ripple at slip", {running_list(c, result.counts, delta)}, result.kept);
    result.at_slip = running_curve(c, result.counts, delta, std::move(at_slip.front()));
    add_mean_and_weakest(*result.at_slip, *result.slip_torque);
  }

  result.not_converged = holes(result.slip_curve);
  for (const RunningCurve& curve : result.running_curves)
    result.not_converged += holes(curve.points);
  if (result.at_slip) result.not_converged += holes(result.at_slip->points);
  return result;
}

}  // namespace lodegear
