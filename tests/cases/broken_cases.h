// tests/cases/broken_cases.h — case files with one mistake each, and what must be said about it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace lodegear {

struct BrokenCase {
  std::string mistake;              ///< in words
  std::string text;                 ///< the whole file
  std::string where;                ///< "line:" or "line:column:"
  std::string key;                  ///< dotted; empty = none is named
  std::vector<std::string> pieces;  ///< each must occur in the message
  std::size_t count = 1;            ///< complaints in all
};

std::vector<BrokenCase> broken_cases();

}  // namespace lodegear
