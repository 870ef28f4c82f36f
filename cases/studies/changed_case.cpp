// cases/studies/changed_case.cpp — walking down a dotted key and putting a value there.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/changed_case.h"

#include <charconv>

#include "materials/words.h"

namespace lodegear {

namespace {

struct Step {
  std::string name;
  std::optional<std::size_t> item;  // from 1
  bool good = false;
};

/// The part before the next dot, which is taken off `key`.
Step next_step(std::string_view& key) {
  const std::size_t dot = key.find('.');
  const std::string_view part = key.substr(0, dot);
  key = dot == std::string_view::npos ? std::string_view() : key.substr(dot + 1);
  const std::size_t bracket = part.find('[');
  Step step{std::string(part.substr(0, bracket)), std::nullopt, bracket != 0 && !part.empty()};
  if (bracket == std::string_view::npos) return step;
  std::size_t item = 0;
  const char* begin = part.data() + bracket + 1;
  const char* end = part.data() + part.size();
  const auto read = std::from_chars(begin, end, item);
  step.good = step.good && read.ec == std::errc() && read.ptr + 1 == end && *read.ptr == ']';
  step.item = item;
  return step;
}

TomlEntry* entry_of(TomlValue& table, const std::string& name) {
  for (TomlEntry& entry : table.entries)
    if (entry.key == name) return &entry;
  return nullptr;
}

TomlValue empty_table() { return {}; }

}  // namespace

const TomlValue* value_of_key(const TomlValue& root, std::string_view key) {
  const TomlValue* value = &root;
  do {
    const Step step = next_step(key);
    const TomlEntry* entry = step.good ? value->entry(step.name) : nullptr;
    if (!entry) return nullptr;
    value = &entry->value;
    if (!step.item) continue;
    if (*step.item < 1 || *step.item > value->items.size()) return nullptr;
    value = &value->items[*step.item - 1];
  } while (!key.empty());
  return value;
}

std::string set_key(TomlValue& root, std::string_view key, const TomlValue& value) {
  const std::string whole(key);
  TomlValue* at = &root;
  do {
    const Step step = next_step(key);
    if (!step.good) return "is no key: " + in_quotes(whole) + "; a key is like sun.hub.material.";
    if (at->kind != TomlKind::table)
      return "leads through " + described(*at) + ", which has no keys, at " + in_quotes(step.name) +
             ".";
    TomlEntry* entry = entry_of(*at, step.name);
    if (!entry && step.item)
      return "leads to an item of " + in_quotes(step.name) + ", which the base case does not have.";
    if (!entry) {
      at->entries.push_back({step.name, {}, empty_table()});
      entry = &at->entries.back();
    }
    at = &entry->value;
    if (!step.item) continue;
    if (*step.item < 1 || *step.item > at->items.size())
      return "counts to item " + std::to_string(*step.item) + " of " + in_quotes(step.name) +
             ", of which the base case has " + std::to_string(at->items.size()) +
             "; items count from 1.";
    at = &at->items[*step.item - 1];
  } while (!key.empty());
  const TomlPosition there = at->at;
  *at = value;
  at->at = there;
  return {};
}

void add_table(TomlValue& root, const std::string& member, const std::string& key,
               const TomlValue& table) {
  TomlEntry* owner = entry_of(root, member);
  if (!owner) return;
  TomlEntry* list = entry_of(owner->value, key);
  if (!list) {
    TomlValue none;
    none.kind = TomlKind::array;
    owner->value.entries.push_back({key, {}, none});
    list = &owner->value.entries.back();
  }
  list->value.items.push_back(table);
}

}  // namespace lodegear
