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

}  // namespace

std::string key_place(const TomlDocument& document, std::string_view key) {
  const TomlValue* table = &document.root;
  TomlPosition at = table->at;
  while (!key.empty() && table) {
    const std::size_t dot = key.find('.');
    const Step step = parsed(key.substr(0, dot));
    key = dot == std::string_view::npos ? std::string_view() : key.substr(dot + 1);
    const TomlEntry* entry = table->entry(step.name);
    if (!entry) break;
    at = entry->at;
    table = &entry->value;
    if (step.item > 0) {
      const bool there = step.item <= table->items.size();
      table = there ? &table->items[step.item - 1] : nullptr;
      if (there) at = table->at;
    }
  }
  return place(document.name, at);
}

}  // namespace lodegear
