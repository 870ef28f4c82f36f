// tests/cases/result_of_tests.cpp — a small result to write, and to spoil.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "result_of_tests.h"

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <limits>
#include <sstream>

#include "cases/read_case.h"
#include "cases/run_case.h"
#include "tests/support/small_case.h"

namespace lodegear {

const CaseResult& small_result() {
  static const CaseResult result = run_case(read_case_text(small_case, "small.toml"));
  return result;
}

CaseResult result_with_hole() {
  CaseResult result = small_result();
  CurvePoint& lost = result.slip_curve[3];
  lost.summary.converged = false;
  lost.torque.fill(std::numeric_limits<double>::quiet_NaN());
  result.not_converged = 1;
  result.slip_torque.reset();
  result.stiffness.reset();
  result.at_slip.reset();
  return result;
}

std::vector<std::vector<std::string>> csv_cells(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    rows.emplace_back(1);
    for (const char c : line)
      if (c == ',')
        rows.back().emplace_back();
      else
        rows.back().back() += c;
  }
  return rows;
}

ScratchFolder::ScratchFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "lodegear-test-XXXXXX").string();
  path_ = mkdtemp(name.data());
}
ScratchFolder::~ScratchFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string text_of_file(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

void put_text(const std::filesystem::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

}  // namespace lodegear
