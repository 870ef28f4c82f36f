// tests/cases/case_texts.cpp — changing texts and reading them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "case_texts.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <sstream>

namespace lodegear {

std::vector<std::string> lines_of_text(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

std::string with_line(const std::string& text, std::size_t number, const std::string& replacement) {
  std::vector<std::string> lines = lines_of_text(text);
  if (number > lines.size()) lines.resize(number);
  lines[number - 1] = replacement;
  std::string changed;
  for (const std::string& line : lines) changed += line + "\n";
  return changed;
}

std::string with_more(const std::string& text, const std::string& more) {
  return text + more + "\n";
}

std::string Outcome::message() const {
  std::string text;
  for (const Complaint& complaint : complaints) text += to_string(complaint) + "\n";
  return text;
}

Outcome outcome(const std::string& text) {
  static const Catalogue catalogue;  // each material is parsed once for all tests
  try {
    return {read_case_text(text, "case", catalogue), {}};
  } catch (const InputError& error) {
    return {std::nullopt, error.complaints()};
  }
}

Case read(const std::string& text) {
  const Outcome result = outcome(text);
  INFO(result.message());
  REQUIRE(result.read.has_value());
  return *result.read;
}

std::string file_text(const std::string& path_in_tree) {
  std::ifstream file(std::string(LODEGEAR_SOURCE_DIR) + "/" + path_in_tree, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace lodegear
