// tools/bench/record.h — one line of the table.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tools/bench/clock.h"

namespace lodegear::bench {

/// One figure with all that is needed to judge it. What does not apply stays empty. Text holds no
/// commas: records are lines of CSV.
struct Record {
  std::string row;                       ///< what was measured, "position, warm" without the comma
  std::string gear;                      ///< name of the case
  std::string path;                      ///< of the solver
  std::string settings;                  ///< resolution and whatever else was chosen
  int unknowns = 0;                      ///< 0 = none
  std::vector<double> values;            ///< one a repeat
  std::string unit;                      ///< of the values, "CPU s"
  std::optional<double> slip_error;      ///< of the slip torque, part of it
  std::optional<double> position_error;  ///< largest of a torque at a position, part of slip torque
  bool with_peak = true;                 ///< the peak memory of this process belongs to it
  std::string note;
};

/// Names of the columns.
std::string csv_header();
/// Median, least and most of the values, how many there were, and the peak memory of the process.
std::string csv_line(const Record& record);

}  // namespace lodegear::bench
