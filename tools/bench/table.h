// tools/bench/table.h — from lines of CSV to a table for people.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

namespace lodegear::bench {

/// The records as columns that line up; below them how many times as long the general-purpose
/// library takes for a position as each path of the solver does, and which rows miss the accuracy
/// in their name.
std::string table_of(const std::filesystem::path& csv);

}  // namespace lodegear::bench
