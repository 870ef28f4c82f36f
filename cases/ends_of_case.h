// cases/ends_of_case.h — what the finite length of a case's stack costs and how it pulls.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "cases/validation.h"

namespace lodegear {

/// With the magnets at their temperature. None where no estimate fits.
std::optional<EndEffectInput> ends_input(const Case& c);

/// Half to three times the case's length. `per_metre`: plane torque of one metre of stack.
std::vector<TorqueOfLength> torque_against_length(const EndEffectInput& input, double length,
                                                  double per_metre);

/// Sun and ring, a tenth of the stack aside.
std::vector<AxialPull> axial_pulls(const EndEffectInput& input, double length);

}  // namespace lodegear
