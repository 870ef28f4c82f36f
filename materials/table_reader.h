// materials/table_reader.h — reading a table key by key, gathering every complaint on the way.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <initializer_list>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "materials/input_error.h"
#include "materials/toml_file.h"

namespace lodegear {

/// A default that was taken because the key was not given.
struct Assumed {
  std::string key;    ///< dotted
  std::string value;  ///< as it would be written in the file
};

/// What came up while reading. One log serves a whole file.
struct ReadLog {
  std::vector<Complaint> complaints;
  std::vector<Assumed> assumed;

  /// Throws InputError if there are complaints. To be called before values are used.
  void throw_if_wrong() const;
};

/// The numbers a key may hold; ends belong to it unless open.
struct Range {
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
  bool least_open = false;
  bool most_open = false;

  static Range any() { return {}; }
  static Range positive() { return above(0.0); }
  static Range above(double x) { return {.least = x, .least_open = true}; }
  static Range at_least(double x) { return {.least = x}; }
  static Range at_most(double x) { return {.most = x}; }
  static Range between(double a, double b) { return {.least = a, .most = b}; }
  bool holds(double x) const;
  /// "above 0 and at most 1".
  std::string text() const;
};

/// Reads one table of a file. Every getter names the key it wants, so that finish() knows which
/// keys nobody asked for. A value that is missing, of the wrong kind or out of range becomes a
/// complaint in the log and the getter returns a harmless stand-in (nan, 0, empty text, the first
/// choice); ReadLog::throw_if_wrong() then ends the reading with all complaints at once.
///
/// The document and the log must outlive the reader.
class TableReader {
 public:
  /// The root of a document; `name` is the dotted name that keys are reported under, often empty.
  TableReader(const TomlDocument& document, ReadLog& log, std::string name = {});
  TableReader(TableReader&&) = default;
  TableReader(const TableReader&) = delete;

  const std::string& name() const { return name_; }
  const std::string& file() const { return *file_; }
  /// "sun.magnets" + "width_mm" → "sun.magnets.width_mm".
  std::string dotted(std::string_view key) const;
  /// Whether the key is there, without asking for it.
  bool has(std::string_view key) const { return table_->entry(key) != nullptr; }
  /// The kind of its value, if it is there.
  std::optional<TomlKind> kind(std::string_view key) const;
  /// Asks for the key and gives its value as it stands, for keys that may hold anything; or null.
  const TomlValue* value(std::string_view key);

  double number(std::string_view key, Range range = {});
  double number_or(std::string_view key, double if_missing, Range range = {});
  std::optional<double> optional_number(std::string_view key, Range range = {});

  int integer(std::string_view key, int least, int most);
  int integer_or(std::string_view key, int if_missing, int least, int most);
  std::optional<int> optional_integer(std::string_view key, int least, int most);

  std::string text(std::string_view key);  ///< not empty
  std::string text_or(std::string_view key, const std::string& if_missing);
  std::optional<std::string> optional_text(std::string_view key);

  bool flag(std::string_view key);
  bool flag_or(std::string_view key, bool if_missing);
  std::optional<bool> optional_flag(std::string_view key);

  /// One of a few words, each standing for a value: choice<Gap>("gap", {{"inner", Gap::inner}, …}).
  template <class T>
  using Choices = std::initializer_list<std::pair<const char*, T>>;
  template <class T>
  T choice(std::string_view key, Choices<T> choices) {
    return (choices.begin() + word(key, words(choices), nullptr))->second;
  }
  /// `if_missing` is the word taken when the key is not there.
  template <class T>
  T choice_or(std::string_view key, const char* if_missing, Choices<T> choices) {
    return (choices.begin() + word(key, words(choices), if_missing))->second;
  }

  /// At least `least_count` numbers, each in range.
  std::vector<double> numbers(std::string_view key, Range range = {}, std::size_t least_count = 1);
  std::optional<std::vector<double>> optional_numbers(std::string_view key, Range range = {},
                                                      std::size_t least_count = 1);
  /// Rows of `width` finite numbers each: [[H, B], [H, B], …].
  std::vector<std::vector<double>> rows(std::string_view key, std::size_t width);

  TableReader table(std::string_view key);  ///< if missing: an empty one, after the complaint
  std::optional<TableReader> optional_table(std::string_view key);
  /// [[key]] tables, or a list of {…}; none if the key is missing.
  std::vector<TableReader> tables(std::string_view key);

  /// Complains unless exactly one of the keys is there; returns that one, or empty.
  std::string exactly_one_of(std::initializer_list<std::string_view> keys);
  /// Complains if more than one of the keys is there; returns the first that is, or empty.
  std::string at_most_one_of(std::initializer_list<std::string_view> keys);

  /// A complaint about a key (at its position if it is there) or, with an empty key, the table.
  void complain(std::string_view key, const std::string& text);
  /// Notes a default that the caller takes on its own account.
  void assume(std::string_view key, const std::string& value);

  /// Reports the keys that were never asked for (the first twenty one by one), with the nearest key
  /// that was. To be called once, after the last getter, also on the readers of sub-tables.
  void finish();

 private:
  TableReader(const TomlValue& table, const std::string& file, ReadLog& log, std::string name);
  /// Stands in for a sub-table that is missing; readers of it stay silent.
  static const TomlValue& absent_table();
  const TomlEntry* asked(std::string_view key);
  const TomlEntry* required(std::string_view key, const std::string& wanted);
  void wrong_kind(const TomlEntry& entry, const std::string& wanted);
  void complain_at(TomlPosition at, std::string_view key, const std::string& text);
  std::optional<double> finite(const TomlValue& value, std::string_view key);
  double checked_number(const TomlEntry& entry, const Range& range);
  int checked_integer(const TomlEntry& entry, int least, int most);
  std::string checked_text(const TomlEntry& entry);
  bool checked_flag(const TomlEntry& entry);
  std::vector<double> checked_numbers(const TomlEntry& entry, const Range& range,
                                      std::size_t least_count);
  std::string unknown_key_text(const std::string& key) const;
  TableReader child(const TomlValue& value, std::string_view key, const std::string& suffix);

  template <class T>
  static std::vector<std::string> words(Choices<T> choices) {
    std::vector<std::string> all;
    for (const auto& choice : choices) all.emplace_back(choice.first);
    return all;
  }
  std::size_t word(std::string_view key, const std::vector<std::string>& words,
                   const char* if_missing);

  const TomlValue* table_;
  const std::string* file_;
  ReadLog* log_;
  std::string name_;
  std::vector<std::string> asked_;
};

}  // namespace lodegear
