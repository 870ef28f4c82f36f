// tools/drawings/bench_sheet.h — what the scale, the spring balance and the Hall probe should show.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/validation.h"

namespace lodegear {

/// The gear measured with a lever arm on one member, the others locked.
struct ArmReading {
  Member member = Member::sun;
  Band slip;                      ///< N·m at which it slips, ends of the stack counted
  std::optional<double> cogging;  ///< N·m peak to peak
};

/// The radial flux density in the middle of the clear part of a gap, at the case's initial angles.
struct GapReading {
  std::string gap;
  double radius = 0.0;  ///< m
  double peak = 0.0;    ///< T, largest |B_r|
  double angle = 0.0;   ///< rad, where
  double mean = 0.0;    ///< T, mean |B_r|
};

std::vector<ArmReading> arm_readings(const Validation& validation);
std::vector<GapReading> gap_readings(const CaseResult& gear);

/// Mass that hangs at the end of a level arm for this torque, kg: T/(g arm).
double mass_on_arm(double torque, double arm);

/// bench_sheet.txt. `arm` in m.
std::string bench_text(const Validation& validation, double arm);

}  // namespace lodegear
