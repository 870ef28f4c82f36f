// cases/motion_of_case.h — a case as a spring between two inertias.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "cases/validation.h"

namespace lodegear {

/// From the slip curve, scaled to what is expected on the bench. None without a whole period.
std::optional<MotionFigures> motion_figures(const Validation& validation);

}  // namespace lodegear
