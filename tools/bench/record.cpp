// tools/bench/record.cpp — records as lines of CSV.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/bench/record.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "cases/text_table.h"
#include "tools/peak_memory.h"

namespace lodegear::bench {

namespace {

std::string per_cent(const std::optional<double>& part) {
  return part ? significant(100 * *part, 2) : std::string();
}

}  // namespace

std::string csv_header() {
  return "row,case,path,settings,unknowns,median,unit,least,most,repeats,slip_error_percent,"
         "position_error_percent,peak_MB,note";
}

std::string csv_line(const Record& r) {
  const auto [least, most] = std::minmax_element(r.values.begin(), r.values.end());
  const std::vector<std::string> cells = {
      r.row,
      r.gear,
      r.path,
      r.settings,
      r.unknowns > 0 ? std::to_string(r.unknowns) : std::string(),
      significant(median(r.values), 4),
      r.unit,
      significant(*least, 4),
      significant(*most, 4),
      std::to_string(r.values.size()),
      per_cent(r.slip_error),
      per_cent(r.position_error),
      r.with_peak ? std::to_string(std::lround(peak_memory())) : std::string(),
      r.note};
  std::string line;
  for (const std::string& cell : cells) {
    assert(cell.find(',') == std::string::npos);
    line += (line.empty() ? "" : ",") + cell;
  }
  return line;
}

}  // namespace lodegear::bench
