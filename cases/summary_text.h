// cases/summary_text.h — what came out, for a person at a screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/case_result.h"

namespace lodegear {

/// Some forty lines of plain words, at most 100 characters wide: what gear, ratios, slip torque,
/// stiffness, ripple, clearances, what was assumed, cautions.
std::string summary_text(const CaseResult& result);

}  // namespace lodegear
