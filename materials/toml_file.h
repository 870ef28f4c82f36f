// materials/toml_file.h — the only door to the TOML library: text in, a small tree of values out.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "materials/toml_value.h"

namespace lodegear {

/// A whole file. `root` is a table.
struct TomlDocument {
  std::string name;  ///< as it stands before positions in messages
  TomlValue root;
};

/// The tree of `text`. Throws InputError with "name:line:column" on anything that is not TOML, for
/// any bytes whatever. Limits: 4 MB, 32 levels of brackets, 100 parts in a dotted key.
TomlDocument toml_document(std::string_view text, const std::string& name);

/// The tree of a file, named by `path` as given. Throws InputError with a sentence if it is
/// missing, no regular file, not readable or empty.
TomlDocument read_toml_file(const std::filesystem::path& path);

}  // namespace lodegear
