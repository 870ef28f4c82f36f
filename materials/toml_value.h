// materials/toml_value.h — a small tree of values read from a file, each with its position.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace lodegear {

/// Line and column from 1; columns count characters, a tab is one.
struct TomlPosition {
  int line = 1;
  int column = 1;
};

enum class TomlKind { boolean, integer, real, text, date, array, table };

struct TomlEntry;

/// One value and where it stands. Only the members that belong to `kind` mean anything.
struct TomlValue {
  TomlKind kind = TomlKind::table;
  TomlPosition at;
  bool boolean = false;
  std::int64_t integer = 0;
  double real = 0.0;               ///< may be nan or inf: the file format allows them
  std::string text;                ///< of kind text; for a real the number as it was written
  std::vector<TomlValue> items;    ///< of an array, in order
  std::vector<TomlEntry> entries;  ///< of a table, in the order of the file

  /// The entry of that key in this table, or null.
  const TomlEntry* entry(std::string_view key) const;
};

/// A key with its own position, and its value.
struct TomlEntry {
  std::string key;
  TomlPosition at;
  TomlValue value;
};

/// "a decimal number (1.5)", "text (\"N42\")", "a list of 3", …: what stands there, for messages.
std::string described(const TomlValue& value);

/// "name:line:column".
std::string place(const std::string& name, TomlPosition at);

}  // namespace lodegear
