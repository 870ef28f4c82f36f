// materials/table_reader_lists.cpp — reading a table key by key: lists, sub-tables, keys together.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "materials/nearest_name.h"
#include "materials/table_reader.h"
#include "materials/words.h"

namespace lodegear {

// ---- lists and tables ---------------------------------------------------------------------------

std::vector<double> TableReader::checked_numbers(const TomlEntry& entry, const Range& range,
                                                 std::size_t least_count) {
  if (entry.value.kind != TomlKind::array) {
    wrong_kind(entry, "a list of numbers, as in [1, 2]");
    return {};
  }
  std::vector<double> list;
  for (const TomlValue& item : entry.value.items) {
    const std::string key = entry.key + index_text(list.size());
    list.push_back(checked_number({key, item.at, item}, range));
  }
  if (list.size() < least_count)
    complain_at(entry.value.at, entry.key,
                "is " + described(entry.value) + "; at least " + std::to_string(least_count) +
                    " numbers are needed.");
  return list;
}

std::vector<double> TableReader::numbers(std::string_view key, Range range,
                                         std::size_t least_count) {
  const TomlEntry* entry = required(key, "a list of numbers");
  return entry ? checked_numbers(*entry, range, least_count) : std::vector<double>();
}

std::optional<std::vector<double>> TableReader::optional_numbers(std::string_view key, Range range,
                                                                 std::size_t least_count) {
  const TomlEntry* entry = asked(key);
  return entry ? std::optional(checked_numbers(*entry, range, least_count)) : std::nullopt;
}

std::vector<std::vector<double>> TableReader::rows(std::string_view key, std::size_t width) {
  const std::string wanted = "a list of lists of " + std::to_string(width) + " numbers";
  const TomlEntry* entry = required(key, wanted);
  std::vector<std::vector<double>> all;
  if (!entry) return all;
  if (entry->value.kind != TomlKind::array) {
    wrong_kind(*entry, wanted);
    return all;
  }
  for (const TomlValue& row : entry->value.items) {
    const std::string row_key = entry->key + index_text(all.size());
    std::vector<double> numbers(width, std::numeric_limits<double>::quiet_NaN());
    if (row.kind != TomlKind::array || row.items.size() != width)
      complain_at(
          row.at, row_key,
          "is " + described(row) + "; it must be a list of " + std::to_string(width) + " numbers.");
    else
      for (std::size_t i = 0; i < width; ++i)
        numbers[i] = finite(row.items[i], row_key).value_or(numbers[i]);
    all.push_back(std::move(numbers));
  }
  return all;
}

TableReader TableReader::child(const TomlValue& value, std::string_view key,
                               const std::string& suffix) {
  return TableReader(value, *file_, *log_, dotted(key) + suffix);
}

TableReader TableReader::table(std::string_view key) {
  if (!asked(key)) complain_at(table_->at, key, "is missing; give a table [" + dotted(key) + "].");
  std::optional<TableReader> reader = optional_table(key);
  return reader ? std::move(*reader) : child(absent_table(), key, "");
}

std::optional<TableReader> TableReader::optional_table(std::string_view key) {
  const TomlEntry* entry = asked(key);
  if (!entry) return std::nullopt;
  if (entry->value.kind != TomlKind::table) {
    wrong_kind(*entry, "a table: [" + dotted(key) + "] or {…}");
    return std::nullopt;
  }
  return child(entry->value, key, "");
}

std::vector<TableReader> TableReader::tables(std::string_view key) {
  std::vector<TableReader> readers;
  const TomlEntry* entry = asked(key);
  if (!entry) return readers;
  const auto& items = entry->value.items;
  const bool all_tables = std::all_of(items.begin(), items.end(), [](const TomlValue& item) {
    return item.kind == TomlKind::table;
  });
  if (entry->value.kind != TomlKind::array || !all_tables) {
    wrong_kind(*entry, "one or more tables [[" + dotted(key) + "]]");
    return readers;
  }
  for (std::size_t i = 0; i < items.size(); ++i)
    readers.push_back(child(items[i], key, index_text(i)));
  return readers;
}

// ---- keys together ------------------------------------------------------------------------------

static std::vector<std::string> as_strings(std::initializer_list<std::string_view> keys) {
  return {keys.begin(), keys.end()};
}

std::string TableReader::at_most_one_of(std::initializer_list<std::string_view> keys) {
  std::string first;
  for (const std::string_view key : keys) {
    const TomlEntry* entry = asked(key);
    if (!entry) continue;
    if (!first.empty())
      complain(key, "cannot stand beside " + first + "; give one of " +
                        listed(as_strings(keys), " or ") + ".");
    else
      first = std::string(key);
  }
  return first;
}

std::string TableReader::exactly_one_of(std::initializer_list<std::string_view> keys) {
  std::string found = at_most_one_of(keys);
  if (found.empty()) complain("", "needs one of " + listed(as_strings(keys), " or ") + ".");
  return found;
}

std::string TableReader::unknown_key_text(const std::string& key) const {
  const std::string text = "is not a key that is known here";
  const std::vector<std::string> near = nearest_names(key, asked_, 1);
  if (!near.empty()) return text + "; did you mean " + near.front() + "?";
  if (asked_.empty() || asked_.size() > 12) return text + ".";
  return text + "; known are " + listed(asked_, " and ") + ".";
}

void TableReader::finish() {
  constexpr std::size_t most = 20;  // a file of another kind has thousands
  std::vector<const TomlEntry*> unknown;
  for (const TomlEntry& entry : table_->entries)
    if (std::find(asked_.begin(), asked_.end(), entry.key) == asked_.end())
      unknown.push_back(&entry);
  for (std::size_t i = 0; i < std::min(most, unknown.size()); ++i)
    complain_at(unknown[i]->at, unknown[i]->key, unknown_key_text(unknown[i]->key));
  if (unknown.size() > most)
    complain_at(unknown[most]->at, "",
                "and " + std::to_string(unknown.size() - most) + " more unknown keys.");
}

}  // namespace lodegear
