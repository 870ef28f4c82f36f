// tests/materials/materials_of_tests.h — curves and readers that several tests use.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <algorithm>
#include <string>
#include <vector>

#include "materials/bh_curve.h"
#include "materials/input_error.h"
#include "materials/table_reader.h"
#include "materials/toml_file.h"

namespace lodegear {

/// A made-up soft steel that begins with an S and ends saturated: J = 2 T (1 − 1000 A/m / H) from
/// 10 kA/m on.
inline std::vector<BhPoint> invented_table() {
  std::vector<BhPoint> table{{0, 0},     {50, 0.1},  {80, 0.4},    {100, 0.6},
                             {150, 0.9}, {300, 1.2}, {1000, 1.45}, {4000, 1.62}};
  for (const double h : {1e4, 2e4, 5e4, 1e5, 2e5, 5e5})
    table.push_back({h, 2.0 * (1.0 - 1000.0 / h) + mu0 * h});
  return table;
}

/// The message of the InputError that `action` throws; empty if it throws none.
template <class Action>
std::string message_of(Action action) {
  try {
    action();
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

/// dH/dB at B.
template <class Law>
double field_slope(const Law& law, double b) {
  const auto point = law.at(b * b);
  return point.nu + 2.0 * b * b * point.dnu_db2;
}

}  // namespace lodegear
