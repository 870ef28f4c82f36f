// cases/magnets_of_case.cpp — what the magnets of a case bear in use and through a slip.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/magnets_of_case.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "cases/slip_figures.h"
#include "mesh/member_limits.h"
#include "solver/motion/positions.h"
#include "solver/motion/sweep.h"

namespace lodegear {

namespace {

// Of one period of the load angle. The worst field changes slowly with it.
constexpr std::size_t slip_positions_looked_at = 24, fewest_slip_positions = 20;

const MagnetInUse& magnet_of(const Case& c, Member m) {
  return c.magnets.at(rotor_of(c.gear, m).magnet);
}

OpposingField worst_field(const FieldProblem& problem, std::size_t member,
                          const std::vector<FieldSolution>& solutions) {
  const FieldMember& of_gear = problem.members[member];
  OpposingField field = opposing_field(of_gear);
  for (const FieldSolution& s : solutions) add_position(of_gear, s.a[member], field);
  return field;
}

std::vector<FieldSolution> solve_slip(const FieldSolver& solver, const Positions& positions,
                                      KeepPotentials keep, int threads) {
  SweepOptions options;
  options.threads = threads;
  options.keep = keep;
  std::vector<FieldSolution> solutions = sweep_curve(solver, positions, options);
  for (const FieldSolution& s : solutions)
    if (!s.summary.converged)
      throw std::runtime_error("a position of the slip has no solution: " + s.summary.message);
  return solutions;
}

bool larger(const FieldSolution& a, const FieldSolution& b) {
  return std::abs(a.torque_modulator) < std::abs(b.torque_modulator);
}

double largest_torque(const std::vector<FieldSolution>& solutions) {
  return std::abs(std::max_element(solutions.begin(), solutions.end(), larger)->torque_modulator);
}

/// The position of largest torque and those within 30° electrical: weaker magnets shift the peak.
Positions about_the_peak(const std::vector<FieldSolution>& slip) {
  const auto n = static_cast<std::ptrdiff_t>(slip.size());
  const auto top = std::max_element(slip.begin(), slip.end(), larger) - slip.begin();
  Positions positions;
  for (std::ptrdiff_t step = -n / 12; step <= n / 12; ++step)
    positions.push_back(slip[static_cast<std::size_t>((top + step + n) % n)].position);
  return positions;
}

MagnetHealth health(const CaseResult& gear, std::size_t member, const SolvedCycle& in_use,
                    const std::vector<FieldSolution>& slip) {
  MagnetHealth health;
  health.member = gear.solver->problem().members[member].mesh.member;
  const MagnetInUse& magnet = magnet_of(gear.input, health.member);
  const double celsius = magnet.temperature;
  health.grade = magnet.grade;
  health.temperature = celsius;
  const OpposingField running = worst_field(gear.solver->problem(), member, in_use.solutions);
  OpposingField slipping = worst_field(gear.solver->problem(), member, slip);
  for (std::size_t i = 0; i < slipping.h.size(); ++i)
    slipping.h[i] = std::max(slipping.h[i], running.h[i]);
  health.in_use = demagnetisation(running, magnet.material, celsius, celsius);
  health.slipping = demagnetisation(slipping, magnet.material, celsius, celsius);
  health.safe = safe_temperatures(slipping, magnet.material, celsius);
  if (health.slipping)
    health.coercivity_needed = coercivity_needed(slipping, magnet.material, celsius, celsius);
  health.opposing = std::move(slipping);
  return health;
}

}  // namespace

std::vector<FieldSolution> solved_slip(const CaseResult& gear, int threads) {
  const std::size_t n = gear.slip_curve.size();
  const bool whole = n == static_cast<std::size_t>(gear.input.slip->positions_per_period);
  if (!whole || n < fewest_slip_positions || gear.kept.size() < n ||
      !all_converged(gear.slip_curve))
    return solve_slip(
        *gear.solver,
        slip_positions(gear.counts, gear.input.slip->turned,
                       static_cast<int>(slip_positions_looked_at), start_position(gear.input.gear)),
        KeepPotentials::every, threads);
  std::vector<FieldSolution> slip;
  for (std::size_t i = 0; i < n; i += std::max<std::size_t>(1, n / slip_positions_looked_at))
    slip.push_back(gear.kept[i]);
  return slip;
}

std::vector<FieldSolution> worst_of_slip(const CaseResult& gear, int threads) {
  const Positions all =
      slip_positions(gear.counts, gear.input.slip->turned, 12, start_position(gear.input.gear));
  return solve_slip(*gear.solver, {all.begin() + 5, all.begin() + 8}, KeepPotentials::every,
                    threads);
}

std::vector<MagnetHealth> magnet_health(const Validation& validation, const SolvedCycle& in_use,
                                        const std::vector<FieldSolution>& slip) {
  const CaseResult& gear = validation.gear;
  std::vector<MagnetHealth> all;
  const auto& members = gear.solver->problem().members;
  for (std::size_t i = 0; i < members.size(); ++i)
    if (members[i].mesh.member != Member::modulator) all.push_back(health(gear, i, in_use, slip));
  return all;
}

TriangleNumbers magnet_margins(const Case& c, const FieldProblem& problem,
                               const std::vector<FieldSolution>& solutions) {
  TriangleNumbers all;
  for (std::size_t i = 0; i < problem.members.size(); ++i) {
    const MemberMesh& mesh = problem.members[i].mesh;
    all.emplace_back(static_cast<std::size_t>(mesh.triangles.rows()),
                     std::numeric_limits<double>::quiet_NaN());
    if (mesh.member == Member::modulator) continue;
    const MagnetInUse& magnet = magnet_of(c, mesh.member);
    const auto limit = knee(magnet.material, magnet.temperature);
    if (!limit) continue;
    const OpposingField field = worst_field(problem, i, solutions);
    for (std::size_t k = 0; k < field.triangle.size(); ++k)
      all.back()[static_cast<std::size_t>(field.triangle[k])] = 1 - field.h[k] / limit->h;
  }
  return all;
}

double torque_after_slip(const Validation& validation, const std::vector<FieldSolution>& slip,
                         int threads) {
  const CaseResult& gear = validation.gear;
  FieldProblem problem = gear.solver->problem();
  bool weaker = false;
  for (std::size_t i = 0; i < problem.members.size(); ++i) {
    const Member m = problem.members[i].mesh.member;
    if (m == Member::modulator) continue;
    const MagnetInUse& magnet = magnet_of(gear.input, m);
    if (!knee(magnet.material, magnet.temperature)) continue;
    const OpposingField field = worst_field(gear.solver->problem(), i, slip);
    problem.members[i].weakened = weakening(problem.members[i], field, magnet.material,
                                            magnet.temperature, magnet.temperature);
    for (const double left : problem.members[i].weakened) weaker = weaker || left < 0.999;
  }
  if (!weaker) return 1.0;
  const FieldSolver solver(std::move(problem));
  return largest_torque(solve_slip(solver, about_the_peak(slip), KeepPotentials::none, threads)) /
         largest_torque(slip);
}

}  // namespace lodegear
