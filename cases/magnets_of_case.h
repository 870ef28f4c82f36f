// cases/magnets_of_case.h — what the magnets of a case bear in use and through a slip.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cases/losses_of_case.h"
#include "cases/validation.h"

namespace lodegear {

/// Some two dozen positions over one period of a slip, potentials filled: those that the slip curve
/// left in CaseResult::kept, or solved anew where it is too short.
std::vector<FieldSolution> solved_slip(const CaseResult& gear, int threads);

/// A few positions about load angle 180°, where poles repel one another and magnets bear most.
std::vector<FieldSolution> worst_of_slip(const CaseResult& gear, int threads);

/// Health of the sun's and the ring's magnets at the temperatures of the case. `in_use`: a cycle at
/// load.
std::vector<MagnetHealth> magnet_health(const Validation& validation, const SolvedCycle& in_use,
                                        const std::vector<FieldSolution>& slip);

/// How far every triangle stays from the knee at the temperatures of the case, the worst of
/// `solutions` (potentials filled): 1 − h/h_k, below 0 where something is lost; NaN outside magnets
/// and where the knee is not known.
TriangleNumbers magnet_margins(const Case& c, const FieldProblem& problem,
                               const std::vector<FieldSolution>& solutions);

/// Largest torque about the peak of a slip with what is left of the magnets after one, over that
/// before. 1 where nothing is lost or the knee is not known.
double torque_after_slip(const Validation& validation, const std::vector<FieldSolution>& slip,
                         int threads);

}  // namespace lodegear
