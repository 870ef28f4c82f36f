// materials/toml_value.cpp — a small tree of values: lookup and description.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/toml_value.h"

namespace lodegear {

std::string place(const std::string& name, TomlPosition at) {
  return name + ":" + std::to_string(at.line) + ":" + std::to_string(at.column);
}

const TomlEntry* TomlValue::entry(std::string_view key) const {
  for (const TomlEntry& e : entries)
    if (e.key == key) return &e;
  return nullptr;
}

std::string described(const TomlValue& value) {
  switch (value.kind) {
    case TomlKind::boolean:
      return value.boolean ? "true" : "false";
    case TomlKind::integer:
      return "the whole number " + std::to_string(value.integer);
    case TomlKind::real:
      return "the decimal number " + value.text;
    case TomlKind::text:
      return value.text.size() <= 40 ? "the text \"" + value.text + "\"" : "a long text";
    case TomlKind::date:
      return "a date or time";
    case TomlKind::array:
      return "a list of " + std::to_string(value.items.size());
    case TomlKind::table:
      return "a table";
  }
  return {};
}

}  // namespace lodegear
