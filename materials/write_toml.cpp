// materials/write_toml.cpp — a tree of values as the text of a file again.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/write_toml.h"

#include <algorithm>
#include <cmath>

#include "materials/words.h"

namespace lodegear {

namespace {

std::string quoted(const std::string& text) {
  constexpr char digits[] = "0123456789ABCDEF";
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (byte < 0x20 || byte == 0x7f) {
      out += std::string("\\u00") + digits[byte / 16] + digits[byte % 16];
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string key_text(const std::string& key) {
  const auto bare = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  };
  return !key.empty() && std::all_of(key.begin(), key.end(), bare) ? key : quoted(key);
}

/// With a dot or an exponent, or it would come back as a whole number.
std::string real_text(double x) {
  if (std::isnan(x)) return "nan";
  if (std::isinf(x)) return x > 0 ? "inf" : "-inf";
  const std::string text = number_text(x);
  return text.find_first_of(".e") == std::string::npos ? text + ".0" : text;
}

bool holds_tables(const TomlValue& value) {
  return value.kind == TomlKind::array && !value.items.empty() &&
         std::all_of(value.items.begin(), value.items.end(),
                     [](const TomlValue& item) { return item.kind == TomlKind::table; });
}

void write_table(const TomlValue& table, const std::string& name, std::string& out) {
  for (const auto& [key, at, value] : table.entries)
    if (value.kind != TomlKind::table && !holds_tables(value))
      out += key_text(key) + " = " + toml_value_text(value) + "\n";
  for (const auto& [key, at, value] : table.entries) {
    const std::string full = name.empty() ? key_text(key) : name + "." + key_text(key);
    if (value.kind == TomlKind::table) {
      out += "[" + full + "]\n";
      write_table(value, full, out);
    } else if (holds_tables(value)) {
      for (const TomlValue& item : value.items) {
        out += "[[" + full + "]]\n";
        write_table(item, full, out);
      }
    }
  }
}

}  // namespace

std::string toml_value_text(const TomlValue& value) {
  std::string text;
  switch (value.kind) {
    case TomlKind::boolean:
      return value.boolean ? "true" : "false";
    case TomlKind::integer:
      return std::to_string(value.integer);
    case TomlKind::real:
      return real_text(value.real);
    case TomlKind::text:
      return quoted(value.text);
    case TomlKind::date:
      return "\"\"";
    case TomlKind::array:
      for (const TomlValue& item : value.items)
        text += (text.empty() ? "" : ", ") + toml_value_text(item);
      return "[" + text + "]";
    case TomlKind::table:
      for (const TomlEntry& entry : value.entries)
        text +=
            (text.empty() ? "" : ", ") + key_text(entry.key) + " = " + toml_value_text(entry.value);
      return "{" + text + "}";
  }
  return text;
}

std::string toml_text(const TomlValue& root) {
  std::string out;
  write_table(root, {}, out);
  return out;
}

}  // namespace lodegear
