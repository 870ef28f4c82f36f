// tools/report/figures_of_json.h — every figure of a JSON file as rows of a table.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace lodegear {

/// One row {"what", "figure"} for each {"value", "unit", "how"} within, named by the way to it:
/// "parts, sun magnets, after bench test". Entries of a list are named by the first text they hold
/// (member, part, name, path …), else counted. What is null is left out.
std::vector<std::vector<std::string>> figure_rows(const nlohmann::ordered_json& json);

/// "2.5 N·m" of a figure; empty if it is none or null.
std::string figure_text(const nlohmann::ordered_json& figure);

}  // namespace lodegear
