// cases/validation_csv.h — the tables of a validation as comma-separated text.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/validation.h"

namespace lodegear {

// As in csv_files.h: one header line, dot decimals, twelve digits; a cell that has no value is
// empty.

/// load_Nm, input_speed_rpm, input_power_W, output_power_W, magnetic_loss_W, friction_loss_W,
/// efficiency, load_angle_deg, slips.
std::string efficiency_map_csv(const Validation& validation);

/// time_s, then one column a part, °C; the last row, time "steady", is for ever.
std::string temperatures_csv(const Validation& validation);

/// member, x_mm, y_mm (centre of the triangle, the member's own frame), area_mm2,
/// opposing_kA_per_m, margin: 1 − h/h_knee at the temperature of the magnets, the worst of use and
/// slip; empty where the knee is not known; x1_mm … y3_mm: its corners.
std::string magnet_margin_csv(const Validation& validation);

/// member, part, loss_W_per_m3, x1_mm … y3_mm (corners of the triangle, the member's own frame):
/// where losses arise in the mean over a cycle at the speed of the case and the load angle
/// Validation::loss_density_angle; a triangle that loses nothing has no row.
std::string loss_density_csv(const Validation& validation);

/// time_s, input_angle_deg, output_angle_deg, input_speed_rpm, output_speed_rpm, load_angle_deg
/// (electrical), torque_on_input_Nm, torque_on_output_Nm (of the gear, counter-clockwise): the
/// overload from time 0 and what follows, at most some 5000 rows. Empty if there is none.
std::string slip_in_time_csv(const Validation& validation);

/// input, unit, now, step, slip_torque_percent (for a step) and how far open that is,
/// slip_torque_percent_for_a_percent, margin_percent (of the requirement that decides, for a step)
/// and how far open that is. What helps most first.
std::string small_changes_csv(const Validation& validation);

/// length_mm, slip_torque_Nm, with_overhang_Nm.
std::string stack_length_csv(const Validation& validation);

}  // namespace lodegear
