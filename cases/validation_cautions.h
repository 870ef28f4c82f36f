// cases/validation_cautions.h — what a person must be told about a gear that was judged.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cases/validation.h"

namespace lodegear {

/// From losses, build, magnets and slip; those that stand under every validation come besides.
std::vector<std::string> cautions_of(const Validation& validation);

}  // namespace lodegear
