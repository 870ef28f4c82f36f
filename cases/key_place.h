// cases/key_place.h — where in a case file a key stands.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string_view>

#include "materials/toml_file.h"

namespace lodegear {

/// "file:line:column" of a dotted key ("sun.magnets.width_mm", "sleeve[2].gap"; lists count from
/// 1). Of a key that is not in the file: the place of the innermost table on its way that is.
std::string key_place(const TomlDocument& document, std::string_view key);

/// Whether the key is in the file.
bool has_key(const TomlDocument& document, std::string_view key);

}  // namespace lodegear
