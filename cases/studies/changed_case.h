// cases/studies/changed_case.h — a case file with some of its keys changed.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>

#include "materials/toml_file.h"

namespace lodegear {

/// The value of a dotted key ("sleeve[1].inner_radius_mm"; lists count from 1), or null.
const TomlValue* value_of_key(const TomlValue& root, std::string_view key);

/// Puts `value` at the key; tables on the way are made as needed. Returns what is in the way, as a
/// sentence without a subject ("leads through … "), or nothing.
std::string set_key(TomlValue& root, std::string_view key, const TomlValue& value);

/// Adds a table to the list of tables `key` of the table `member`, as [[sun.odd_magnet]].
void add_table(TomlValue& root, const std::string& member, const std::string& key,
               const TomlValue& table);

}  // namespace lodegear
