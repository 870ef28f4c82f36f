// tests/tools/tolerance_study.h — tolerances of small_case, which lies beside it as case.toml.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

inline constexpr const char* study_of_tolerances = R"(name = "As delivered & <turned>"
case = "case.toml"
how = "latin hypercube"
designs = 12
figures = ["slip_torque_modulator_Nm", "inner_clearance_mm"]
level = 0
[[vary]]
key = "sun.magnets.remanence_percent"
about = 100
standard_deviation = 1.5
[[vary]]
key = "modulator.outer_radius_mm"
plus_minus = 0.05
[[magnets]]
member = "ring"
strength_deviation_percent = 1
)";

}  // namespace lodegear
