// materials/toml_text.cpp — looking at the text of a file: bytes that cannot be, and plainer
// messages. SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/toml_text.h"

#include <algorithm>
#include <cctype>
#include <regex>

namespace lodegear {

namespace {

constexpr std::size_t longest_text = 4u << 20;  // bytes; a case or material is a thousandth of it
constexpr int most_parts = 100;                 // of a dotted key

/// Bytes of the UTF-8 character that starts at `i`, or 0 if there is none. Unicode 15, table 3-7.
std::size_t character_length(std::string_view s, std::size_t i) {
  const auto byte = [&](std::size_t k) {
    return k < s.size() ? static_cast<unsigned char>(s[k]) : 0u;
  };
  const auto tail = [&](std::size_t k) { return (byte(k) & 0xC0u) == 0x80u; };
  const unsigned a = byte(i), b = byte(i + 1);
  if (a < 0x80) return 1;
  if (a >= 0xC2 && a <= 0xDF) return tail(i + 1) ? 2 : 0;
  if (a >= 0xE0 && a <= 0xEF) {
    const bool overlong = a == 0xE0 && b < 0xA0, surrogate = a == 0xED && b > 0x9F;
    return tail(i + 1) && tail(i + 2) && !overlong && !surrogate ? 3 : 0;
  }
  if (a >= 0xF0 && a <= 0xF4) {
    const bool overlong = a == 0xF0 && b < 0x90, beyond = a == 0xF4 && b > 0x8F;
    return tail(i + 1) && tail(i + 2) && tail(i + 3) && !overlong && !beyond ? 4 : 0;
  }
  return 0;
}

std::optional<TextFault> fault_of_characters(std::string_view text) {
  TomlPosition at;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = character_length(text, i);
    if (length == 0)
      return TextFault{at, "this is not UTF-8 text; save the file with the encoding UTF-8."};
    if (text[i] == '\0')
      return TextFault{at, "there is a zero byte here; this is not a text file in UTF-8."};
    if (text[i] == '\n') {
      ++at.line;
      at.column = 1;
    } else {
      ++at.column;
    }
    i += length;
  }
  return std::nullopt;
}

/// Parts joined by dots with nothing but key characters, quotes and blanks between them.
std::optional<TextFault> fault_of_dotted_keys(std::string_view text) {
  int parts = 0, line = 1;
  bool word = false;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    if (c == '.') {
      parts += word ? 1 : 0;
      word = false;
      if (parts > most_parts)
        return TextFault{{line, 1}, "more than 100 words joined by dots; no key is that deep."};
    } else if (std::isalnum(u) || u >= 0x80 || c == '_' || c == '-' || c == '"' || c == '\'') {
      word = true;
    } else if (c != ' ' && c != '\t') {
      parts = 0;
      word = false;
    }
    if (c == '\n') ++line;
  }
  return std::nullopt;
}

std::string_view line_at(const std::vector<std::string_view>& lines, int line) {
  return line >= 1 && static_cast<std::size_t>(line) <= lines.size() ? lines[line - 1]
                                                                     : std::string_view{};
}

struct Slip {
  std::regex looks;
  const char* advice;
};

const std::vector<Slip>& usual_slips() {
  static const std::vector<Slip> slips = [] {
    const std::pair<const char*, const char*> texts[] = {
        {"=\\s*[-+]?[0-9]+,[0-9]+\\s*(#|$)", " Write decimals with a dot, 3.5 and not 3,5."},
        {"=\\s*[-+]?\\.[0-9]", " Write a zero before the dot, 0.5 and not .5."},
        {"=\\s*[-+]?[0-9]+\\.\\s*(#|$)", " Write a digit after the dot, 5.0 or 5."},
        {"=\\s*[-+]?[0-9.]+\\s*[A-Za-z%]",
         " Give the number alone; its unit is in the key's name."},
        {"=\\s*(True|TRUE|yes|Yes|on|On)\\b", " Write true, in small letters."},
        {"=\\s*(False|FALSE|no|No|off|Off)\\b", " Write false, in small letters."},
        {"=\\s*[A-Za-z]", " Text stands in quotes, as in \"N42\"."},
        {"=\\s*(#|$)", " The key has no value."},
        {"^\\s*[A-Za-z0-9_.-]+\\s*:", " Write key = value, not key: value."}};
    std::vector<Slip> all;
    for (const auto& [looks, advice] : texts) all.push_back({std::regex(looks), advice});
    return all;
  }();
  return slips;
}

/// What would be right, guessed from the line; empty if nothing comes to mind.
std::string hint(std::string_view whole) {
  const std::string line(whole.substr(0, 300));  // the expressions above need no more
  for (const Slip& slip : usual_slips())
    if (std::regex_search(line, slip.looks)) return slip.advice;
  return {};
}

std::string plain(std::string message) {
  const std::string lead = "Error while parsing ";
  if (message.rfind(lead, 0) == 0) message.erase(0, lead.size());
  if (const auto colon = message.find(": "); colon != std::string::npos)
    message = "in this " + message.substr(0, colon) + ": " + message.substr(colon + 2);
  const std::string end = "encountered end-of-file";
  if (const auto at = message.find(end); at != std::string::npos)
    message.replace(at, end.size(), "the file ends before it is closed");
  return "not valid TOML, " + message + ".";
}

/// The last line up to `at` on which `key` is given a value.
std::optional<TomlPosition> place_of_key(const std::string& key, TomlPosition at,
                                         const std::vector<std::string_view>& lines) {
  for (int line = at.line; line >= 1; --line) {
    const std::string_view text = line_at(lines, line);
    const auto start = text.find(key);
    if (start == std::string_view::npos) continue;
    const auto after = text.find_first_not_of(" \t\"'", start + key.size());
    const bool whole_word = start == 0 || text.find_first_not_of(" \t\"'") >= start ||
                            std::string_view(".{, \t\"'").find(text[start - 1]) != text.npos;
    if (whole_word && after != std::string_view::npos && text[after] == '=')
      return TomlPosition{line, static_cast<int>(start) + 1};
  }
  return std::nullopt;
}

/// The key of "cannot redefine existing integer 'a'"; nothing for other messages.
std::optional<std::string> repeated_key(const std::string& message) {
  const auto start = message.find("cannot redefine existing");
  if (start == std::string::npos) return std::nullopt;
  const auto open = message.find('\'', start), close = message.rfind('\'');
  if (open == std::string::npos || close <= open + 1) return std::nullopt;
  std::string key = message.substr(open + 1, close - open - 1);
  if (const auto dot = key.rfind('.'); dot != std::string::npos) key.erase(0, dot + 1);
  return key.empty() ? std::nullopt : std::optional(key);
}

}  // namespace

std::optional<TextFault> fault_of_bytes(std::string_view text) {
  if (text.size() > longest_text)
    return TextFault{{}, "the file is larger than 4 MB; that is no case and no material."};
  if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF")
    return TextFault{{}, "this is UTF-16 text; save the file with the encoding UTF-8."};
  if (auto fault = fault_of_characters(text)) return fault;
  return fault_of_dotted_keys(text);
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const auto end = text.find('\n');
    std::string_view line = text.substr(0, end);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    lines.push_back(line);
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  return lines;
}

std::string text_between(const std::vector<std::string_view>& lines, TomlPosition begin,
                         TomlPosition end) {
  if (begin.line != end.line) return {};
  std::string part;
  int column = 1;
  const std::string_view line = line_at(lines, begin.line);
  for (std::size_t i = 0; i < line.size() && column < end.column; ++column) {
    const std::size_t length = std::max<std::size_t>(1, character_length(line, i));
    if (column >= begin.column) part += line.substr(i, length);
    i += length;
  }
  return part;
}

TextFault explained(const std::string& message, TomlPosition at,
                    const std::vector<std::string_view>& lines) {
  if (const auto key = repeated_key(message)) {
    const bool pair = message.find("key-value pair") != std::string::npos;
    const auto found = pair ? place_of_key(*key, at, lines) : std::nullopt;
    return {found.value_or(at), "'" + *key + "' stands here a second time; give it once."};
  }
  return {at, plain(message) + hint(line_at(lines, at.line))};
}

}  // namespace lodegear
