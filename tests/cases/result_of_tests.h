// tests/cases/result_of_tests.h — a small result to write, and to spoil.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "cases/case_result.h"

namespace lodegear {

/// Computed once for all tests of a program.
const CaseResult& small_result();

/// The same with one position of the slip curve lost.
CaseResult result_with_hole();

/// Cells of comma-separated text without quotes, one row a line.
std::vector<std::vector<std::string>> csv_cells(const std::string& text);

/// An empty folder that disappears with its owner.
class ScratchFolder {
 public:
  ScratchFolder();
  ~ScratchFolder();
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }

 private:
  std::filesystem::path path_;
};

std::string text_of_file(const std::filesystem::path& path);
void put_text(const std::filesystem::path& path, const std::string& text);

}  // namespace lodegear
