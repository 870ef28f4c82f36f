// cases/studies/changed_case.cpp — walking down a dotted key and putting a value there.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/changed_case.h"

#include <algorithm>
#include <charconv>

#include "materials/words.h"

namespace lodegear {

namespace {

struct Step {
  std::string name;
  std::optional<std::size_t> item;  // from 1
  bool good = false;
};

/// Takes the name at the beginning off `key`: up to a dot or bracket, or within quotes.
std::string next_name(std::string_view& key) {
  const bool quoted = key.starts_with('"') || key.starts_with('\'');
  const std::size_t from = quoted ? 1 : 0;
  const std::size_t end =
      quoted ? key.find(key.front(), 1) : std::min(key.find_first_of(".["), key.size());
  if (end == std::string_view::npos) return {};
  const std::string name(key.substr(from, end - from));
  key.remove_prefix(end + from);
  return name;
}

/// Takes "[3]" off `key`, if it begins with it; 0 if the number is none.
std::optional<std::size_t> next_item(std::string_view& key) {
  if (!key.starts_with('[')) return std::nullopt;
  std::size_t item = 0;
  const auto read = std::from_chars(key.data() + 1, key.data() + key.size(), item);
  const auto length = static_cast<std::size_t>(read.ptr - key.data());
  if (read.ec != std::errc() || length >= key.size() || key[length] != ']') return 0;
  key.remove_prefix(length + 1);
  return item;
}

/// The part before the next dot, which is taken off `key`.
Step next_step(std::string_view& key) {
  Step step;
  step.name = next_name(key);
  step.item = next_item(key);
  step.good = !step.name.empty() && (key.empty() || (key.size() > 1 && key.front() == '.'));
  if (step.good && !key.empty()) key.remove_prefix(1);
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
  TomlValue* at = &root;
  do {
    const Step step = next_step(key);
    if (!step.good) return "is no key; one is like sun.hub.material or sleeve[1].material.";
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
