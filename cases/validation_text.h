// cases/validation_text.h — a validation for a person at a screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/validation.h"

namespace lodegear {

/// The verdict first, then what is expected on the bench and every figure behind it, then cautions.
std::string validation_text(const Validation& validation);

/// 0 all passes, 1 a requirement fails, 5 one is unsure.
int exit_code(const Validation& validation);

}  // namespace lodegear
