// cases/losses_of_case.h — what the parts of a case lose, from its materials and a few positions.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>
#include <vector>

#include "cases/loss_map.h"
#include "cases/validation.h"
#include "solver/motion/loss_cycle.h"
#include "solver/post/flux_loci.h"

namespace lodegear {

/// How warm the parts are on which resistance depends, °C, by the names of node_names().
using PartTemperatures = std::map<std::string, double>;

/// A load angle, solved over the few positions that losses need. Its histories point into the
/// problem of its solver.
struct SolvedCycle {
  std::shared_ptr<const FieldSolver> solver;
  LossCycle cycle;
  std::vector<FieldSolution> solutions;  ///< potentials filled
  std::vector<MemberHistory> histories;  ///< of them; empty unless all converged
  bool converged = true;
};
/// `per_period`: samples at least in the shortest of the members' periods.
SolvedCycle solved_cycle(const CaseResult& gear, double load_angle, int threads,
                         int per_period = 32);

/// Mean torque per pole pair over the cycle [N·m], plane model, common stack.
double torque_per_pole_pair(const CaseResult& gear, const SolvedCycle& solved);

/// Loss of every part at |ω_sun − ω_modulator| = `phase_speed`, W; in `density`, if given, where it
/// arises, W/m³: over the common stack it sums up to the losses of the parts.
std::vector<PartLoss> losses_by_part(const CaseResult& gear, const SolvedCycle& solved,
                                     double phase_speed, const PartTemperatures& temperatures,
                                     TriangleNumbers* density = nullptr);

/// The case's pole pieces beside solid ones of plain structural steel. None without pole pieces of
/// steel.
std::optional<SolidPoles> solid_poles(const CaseResult& gear, const SolvedCycle& solved,
                                      double phase_speed, const Steel& plain);

}  // namespace lodegear
