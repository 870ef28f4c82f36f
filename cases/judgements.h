// cases/judgements.h — the requirements of a case against what came out.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cases/validation.h"

namespace lodegear {

/// One judgement for each requirement that is stated, and for what always matters: safety factor,
/// magnets through a slip, limits of temperature, clearance. In a fixed order.
///
/// A figure with a band passes if all of the band does, fails if its expected value does not, and
/// is unsure in between.
std::vector<Judgement> judgements(const Validation& validation);

}  // namespace lodegear
