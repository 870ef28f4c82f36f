// cases/summary_json.h — every figure with unit and origin, for programs that read on.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "cases/case_result.h"

namespace lodegear {

/// Raised whenever a reader of the old form would be misled.
inline constexpr int summary_format = 1;

/// The text of summary.json. A figure is {"value", "unit", "how"}; what is unknown or absent is
/// null. `files` are name and SHA-256 of what is written beside it.
std::string summary_json(const CaseResult& result,
                         const std::vector<std::pair<std::string, std::string>>& files);

}  // namespace lodegear
