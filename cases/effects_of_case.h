// cases/effects_of_case.h — which small changes of a case help most.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>

#include "cases/validation.h"

namespace lodegear {

/// Margin of a requirement about losses, heat or magnets, of a changed case on a coarse mesh.
using MarginAhead =
    std::function<double(const Case& c, const Judgement& asked, const Resolution& coarse)>;

/// Fills `effects`: slopes of the slip torque and of the margin of the requirement that decides, on
/// a mesh of the ladder's level 0, temperatures and load as found; ranked by what a step in the
/// good direction gives.
void add_input_effects(Validation& validation, const MarginAhead& ahead, const RunOptions& options);

}  // namespace lodegear
