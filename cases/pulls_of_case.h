// cases/pulls_of_case.h — what magnets, pole pieces and bearings of a case must hold.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cases/losses_of_case.h"
#include "cases/validation.h"

namespace lodegear {

/// The worst magnet of each rotor and the worst pole piece over a slip, turning at `speeds`.
std::vector<PartPull> part_pulls(const Validation& validation,
                                 const std::vector<FieldSolution>& slip,
                                 const MemberSpeeds& speeds);

/// Pulls on each member at the load, and how they grow off centre.
std::vector<SidePull> side_pulls(const Validation& validation, const SolvedCycle& at_load);

/// Clearance wherever something runs, after tolerances and thermal growth of the carriers.
std::vector<ClearanceBudget> clearances(const Validation& validation);

}  // namespace lodegear
