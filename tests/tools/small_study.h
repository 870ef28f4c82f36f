// tests/tools/small_study.h — a study of designs that are solved in a blink.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "program.h"
#include "tests/support/small_case.h"

namespace lodegear {

/// Writes case and study into the folder; returns the study's path.
inline std::string small_study(const Scratch& scratch, int designs, int designs_per_block,
                               const std::string& more = {}) {
  scratch.file("small.toml", small_case);
  return scratch.file(
      "study.toml",
      "name = \"small study\"\ncase = \"small.toml\"\nlevel = 0\nfigures = "
      "[\"slip_torque_modulator_Nm\", \"magnet_mass_kg\"]\ndesigns = " +
          std::to_string(designs) + "\ndesigns_per_block = " + std::to_string(designs_per_block) +
          "\n" +
          (more.empty() ? "[[vary]]\nkey = \"modulator.span_percent\"\nfrom = 40\nto = 60\n"
                          "[best]\nmaximise = \"slip_torque_modulator_Nm\"\n"
                        : more));
}

inline Outcome study(const std::string& file, const std::string& out,
                     const std::string& more = {}) {
  return program("study " + file + " --out " + out + " " + more);
}

}  // namespace lodegear
