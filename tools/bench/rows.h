// tools/bench/rows.h — the list of measurements; each is run in a process of its own.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "tools/bench/record.h"
#include "tools/bench/solving.h"

namespace lodegear::bench {

/// How a row is to be measured.
struct Setting {
  NamedPath path;
  bool quick = false;  ///< fewer repeats, coarser where a row says so
};

struct Row {
  std::string name;  ///< on the command line, "position/standard/0.1"
  bool in_quick = true;
  bool for_every_path = true;
  std::function<std::vector<Record>(const Setting&)> measure;
};

std::vector<Row> start_up_rows();  ///< starting the program
std::vector<Row> position_rows();  ///< one position, cold and warm, nonlinear and linear
std::vector<Row> design_rows();    ///< slip curve, new design, scan of designs
std::vector<Row> growth_rows();    ///< over unknowns, positions, threads
std::vector<Row> ripple_rows();    ///< ripple that symmetry forbids

}  // namespace lodegear::bench
