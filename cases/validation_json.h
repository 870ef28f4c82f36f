// cases/validation_json.h — every figure of a validation with unit and origin, for programs.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "cases/validation.h"

namespace lodegear {

/// Raised whenever a reader of the old form would be misled.
inline constexpr int validation_format = 1;

/// The text of validation.json. A figure is {"value", "unit", "how"}; what is unknown is null.
/// `files` are name and SHA-256 of what is written beside it.
std::string validation_json(const Validation& validation,
                            const std::vector<std::pair<std::string, std::string>>& files);

}  // namespace lodegear
