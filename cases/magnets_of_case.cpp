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
constexpr int slip_positions_looked_at = 24;

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

std::vector<FieldSolution> solve_slip(const CaseResult& gear, const FieldSolver& solver,
                                      KeepPotentials keep, int threads) {
  SweepOptions options;
  options.threads = threads;
  options.keep = keep;
  const Positions positions =
      slip_positions(gear.counts, gear.input.slip->turned, slip_positions_looked_at,
                     start_position(gear.input.gear));
  std::vector<FieldSolution> solutions = sweep_curve(solver, positions, options);
  for (const FieldSolution& s : solutions)
    if (!s.summary.converged)
      throw std::runtime_error("a position of the slip has no solution: " + s.summary.message);
  return solutions;
}

double largest_torque(const std::vector<FieldSolution>& solutions) {
  double largest = 0.0;
  for (const FieldSolution& s : solutions)
    largest = std::max(largest, std::abs(s.torque_modulator));
  return largest;
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

std::vector<MagnetHealth> magnet_health(const Validation& validation, const SolvedCycle& in_use,
                                        int threads, std::vector<FieldSolution>& slip) {
  const CaseResult& gear = validation.gear;
  slip = solve_slip(gear, *gear.solver, KeepPotentials::every, threads);
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
  return largest_torque(solve_slip(gear, solver, KeepPotentials::none, threads)) /
         largest_torque(slip);
}

}  // namespace lodegear
