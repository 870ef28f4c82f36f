// cases/key_place.cpp — walking down a dotted key.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/key_place.h"

#include <charconv>

namespace lodegear {

namespace {

struct Step {
  std::string_view name;
  std::size_t item = 0;  // from 1; 0 = the value itself
};

Step parsed(std::string_view part) {
  const std::size_t bracket = part.find('[');
  if (bracket == std::string_view::npos) return {part, 0};
  Step step{part.substr(0, bracket), 0};
  const std::string_view number = part.substr(bracket + 1);
  std::from_chars(number.data(), number.data() + number.size(), step.item);
  return step;
}

/// How far a dotted key leads into the file.
struct Reached {
  TomlPosition at;
  bool wholly = false;
};

Reached reached(const TomlDocument& document, std::string_view key) {
  const TomlValue* value = &document.root;
  TomlPosition at = value->at;
  while (!key.empty()) {
    const std::size_t dot = key.find('.');
    const Step step = parsed(key.substr(0, dot));
    key = dot == std::string_view::npos ? std::string_view() : key.substr(dot + 1);
    const TomlEntry* entry = value->entry(step.name);
    if (!entry) return {value->at, false};
    at = entry->at;
    value = &entry->value;
    if (step.item == 0) continue;
    if (step.item > value->items.size()) return {at, false};
    value = &value->items[step.item - 1];
    at = value->at;
  }
  return {at, true};
}

}  // namespace

std::string key_place(const TomlDocument& document, std::string_view key) {
  return place(document.name, reached(document, key).at);
}

bool has_key(const TomlDocument& document, std::string_view key) {
  return reached(document, key).wholly;
}

}  // namespace lodegear
