// materials/table_reader.cpp — reading a table key by key.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/table_reader.h"

#include <algorithm>
#include <cmath>

#include "materials/nearest_name.h"
#include "materials/words.h"

namespace lodegear {

namespace {

/// A literal such as 1e-400 that was meant to be something and became zero.
bool lost_to_zero(const TomlValue& value) {
  const std::string mantissa = value.text.substr(0, value.text.find_first_of("eE"));
  return value.real == 0.0 && mantissa.find_first_of("123456789") != std::string::npos;
}

}  // namespace

void ReadLog::throw_if_wrong() const {
  if (!complaints.empty()) throw InputError(complaints);
}

bool Range::holds(double x) const {
  return (least_open ? x > least : x >= least) && (most_open ? x < most : x <= most);
}

std::string Range::text() const {
  std::string words;
  if (std::isfinite(least)) words = (least_open ? "above " : "at least ") + number_text(least);
  if (std::isfinite(most))
    words += (words.empty() ? "" : " and ") + std::string(most_open ? "below " : "at most ") +
             number_text(most);
  return words.empty() ? "any number" : words;
}

// ---- the table itself ---------------------------------------------------------------------------

TableReader::TableReader(const TomlDocument& document, ReadLog& log, std::string name)
    : TableReader(document.root, document.name, log, std::move(name)) {}

TableReader::TableReader(const TomlValue& table, const std::string& file, ReadLog& log,
                         std::string name)
    : table_(&table), file_(&file), log_(&log), name_(std::move(name)) {}

const TomlValue& TableReader::absent_table() {
  static const TomlValue absent;
  return absent;
}

std::string TableReader::dotted(std::string_view key) const {
  if (key.empty()) return name_;
  return name_.empty() ? std::string(key) : name_ + "." + std::string(key);
}

std::optional<TomlKind> TableReader::kind(std::string_view key) const {
  const TomlEntry* entry = table_->entry(key);
  return entry ? std::optional(entry->value.kind) : std::nullopt;
}

const TomlEntry* TableReader::asked(std::string_view key) {
  if (std::find(asked_.begin(), asked_.end(), key) == asked_.end()) asked_.emplace_back(key);
  return table_->entry(key);
}

const TomlValue* TableReader::value(std::string_view key) {
  const TomlEntry* entry = asked(key);
  return entry ? &entry->value : nullptr;
}

const TomlEntry* TableReader::required(std::string_view key, const std::string& wanted) {
  const TomlEntry* entry = asked(key);
  if (!entry) complain_at(table_->at, key, "is missing; give " + wanted + ".");
  return entry;
}

void TableReader::complain_at(TomlPosition at, std::string_view key, const std::string& text) {
  if (table_ == &absent_table()) return;  // the missing table itself was complained about
  log_->complaints.push_back({place(*file_, at), dotted(key), text});
}

void TableReader::complain(std::string_view key, const std::string& text) {
  const TomlEntry* entry = key.empty() ? nullptr : table_->entry(key);
  complain_at(entry ? entry->at : table_->at, key, text);
}

void TableReader::wrong_kind(const TomlEntry& entry, const std::string& wanted) {
  complain_at(entry.value.at, entry.key,
              "is " + described(entry.value) + "; it must be " + wanted + ".");
}

void TableReader::assume(std::string_view key, const std::string& value) {
  log_->assumed.push_back({dotted(key), value});
}

// ---- numbers ------------------------------------------------------------------------------------

std::optional<double> TableReader::finite(const TomlValue& value, std::string_view key) {
  if (value.kind == TomlKind::integer) return static_cast<double>(value.integer);
  if (value.kind != TomlKind::real) {
    complain_at(value.at, key, "is " + described(value) + "; it must be a number.");
    return std::nullopt;
  }
  if (!std::isfinite(value.real)) {
    complain_at(value.at, key, "is " + value.text + "; it must be a finite number.");
    return std::nullopt;
  }
  if (lost_to_zero(value)) {
    complain_at(value.at, key, "is " + value.text + ", too small a number to be told from 0.");
    return std::nullopt;
  }
  return value.real;
}

double TableReader::checked_number(const TomlEntry& entry, const Range& range) {
  const std::optional<double> x = finite(entry.value, entry.key);
  if (!x) return std::numeric_limits<double>::quiet_NaN();
  if (!range.holds(*x))
    complain_at(entry.value.at, entry.key,
                "is " + number_text(*x) + "; it must be " + range.text() + ".");
  return *x;
}

double TableReader::number(std::string_view key, Range range) {
  const std::string wanted =
      range.text() == "any number" ? range.text() : "a number " + range.text();
  const TomlEntry* entry = required(key, wanted);
  return entry ? checked_number(*entry, range) : std::numeric_limits<double>::quiet_NaN();
}

std::optional<double> TableReader::optional_number(std::string_view key, Range range) {
  const TomlEntry* entry = asked(key);
  return entry ? std::optional(checked_number(*entry, range)) : std::nullopt;
}

double TableReader::number_or(std::string_view key, double if_missing, Range range) {
  if (const auto given = optional_number(key, range)) return *given;
  assume(key, number_text(if_missing));
  return if_missing;
}

static std::string whole_number(int least, int most) {
  const std::string from = std::to_string(least), to = std::to_string(most);
  if (most == std::numeric_limits<int>::max()) return "a whole number, at least " + from;
  return "a whole number from " + from + " to " + to;
}

int TableReader::checked_integer(const TomlEntry& entry, int least, int most) {
  if (entry.value.kind != TomlKind::integer) {
    wrong_kind(entry, whole_number(least, most) + ", without a dot or quotes");
    return least;
  }
  if (entry.value.integer < least || entry.value.integer > most) {
    complain_at(entry.value.at, entry.key,
                "is " + std::to_string(entry.value.integer) + "; it must be " +
                    whole_number(least, most) + ".");
    return least;
  }
  return static_cast<int>(entry.value.integer);
}

int TableReader::integer(std::string_view key, int least, int most) {
  const TomlEntry* entry = required(key, whole_number(least, most));
  return entry ? checked_integer(*entry, least, most) : least;
}

std::optional<int> TableReader::optional_integer(std::string_view key, int least, int most) {
  const TomlEntry* entry = asked(key);
  return entry ? std::optional(checked_integer(*entry, least, most)) : std::nullopt;
}

int TableReader::integer_or(std::string_view key, int if_missing, int least, int most) {
  if (const auto given = optional_integer(key, least, most)) return *given;
  assume(key, std::to_string(if_missing));
  return if_missing;
}

// ---- words --------------------------------------------------------------------------------------

std::string TableReader::checked_text(const TomlEntry& entry) {
  if (entry.value.kind != TomlKind::text) {
    wrong_kind(entry, "text in quotes");
    return {};
  }
  if (entry.value.text.find_first_not_of(" \t\r\n") == std::string::npos)
    complain_at(entry.value.at, entry.key, "is an empty text; write something or leave it out.");
  return entry.value.text;
}

std::string TableReader::text(std::string_view key) {
  const TomlEntry* entry = required(key, "a text in quotes");
  return entry ? checked_text(*entry) : std::string();
}

std::optional<std::string> TableReader::optional_text(std::string_view key) {
  const TomlEntry* entry = asked(key);
  return entry ? std::optional(checked_text(*entry)) : std::nullopt;
}

std::string TableReader::text_or(std::string_view key, const std::string& if_missing) {
  if (auto given = optional_text(key)) return *given;
  assume(key, in_quotes(if_missing));
  return if_missing;
}

bool TableReader::checked_flag(const TomlEntry& entry) {
  if (entry.value.kind != TomlKind::boolean) wrong_kind(entry, "true or false, without quotes");
  return entry.value.boolean;
}

bool TableReader::flag(std::string_view key) {
  const TomlEntry* entry = required(key, "true or false");
  return entry && checked_flag(*entry);
}

std::optional<bool> TableReader::optional_flag(std::string_view key) {
  const TomlEntry* entry = asked(key);
  return entry ? std::optional(checked_flag(*entry)) : std::nullopt;
}

bool TableReader::flag_or(std::string_view key, bool if_missing) {
  if (const auto given = optional_flag(key)) return *given;
  assume(key, if_missing ? "true" : "false");
  return if_missing;
}

std::size_t TableReader::word(std::string_view key, const std::vector<std::string>& words,
                              const char* if_missing) {
  std::vector<std::string> choices;
  for (const std::string& w : words) choices.push_back(in_quotes(w));
  const std::string wanted = listed(choices, " or ");
  const auto index_of = [&](const std::string& w) {
    return static_cast<std::size_t>(std::find(words.begin(), words.end(), w) - words.begin());
  };
  const TomlEntry* entry = if_missing ? asked(key) : required(key, wanted);
  if (!entry && if_missing) {
    assume(key, in_quotes(if_missing));
    return std::min(index_of(if_missing), words.size() - 1);
  }
  if (!entry) return 0;
  if (entry->value.kind != TomlKind::text) {
    wrong_kind(*entry, wanted);
    return 0;
  }
  const std::size_t index = index_of(entry->value.text);
  if (index < words.size()) return index;
  const auto near = nearest_names(entry->value.text, words, 1);
  complain_at(entry->value.at, key,
              "is " + described(entry->value) + "; it must be " + wanted + "." +
                  (near.empty() ? "" : " Did you mean " + in_quotes(near.front()) + "?"));
  return 0;
}

}  // namespace lodegear
