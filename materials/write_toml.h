// materials/write_toml.h — a tree of values as the text of a file again.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "materials/toml_value.h"

namespace lodegear {

/// Text that toml_document reads back as the same tree, but for positions, comments and the order
/// of plain keys before tables. Dates are not carried over: no file of ours has any.
std::string toml_text(const TomlValue& root);

/// One scalar or list as it stands behind "key = ".
std::string toml_value_text(const TomlValue& value);

}  // namespace lodegear
