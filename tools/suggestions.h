// tools/suggestions.h — what was probably meant by a mistyped command or option.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

namespace lodegear {

/// A sentence about the first command or option that does not exist, with the nearest one that
/// does; none if all are known. `words` are the arguments without the program's name.
std::optional<std::string> mistyped(const CLI::App& app, const std::vector<std::string>& words);

/// " sweep" if a subcommand was chosen, else nothing.
std::string chosen_name(const CLI::App& app);

}  // namespace lodegear
