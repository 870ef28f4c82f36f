// cases/csv_files.h — torque curves as comma-separated text.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/case_result.h"

namespace lodegear {

// First line the header, no comment lines, dot decimals whatever the locale, twelve digits.
// Degrees, N·m, N. Cells of a member that the gear does not have, and torques and pulls of a
// position that did not converge (converged = 0), are empty.

/// load_angle_deg, three member angles, three torques, pull on sun and ring, converged. A case with
/// neither sweep has its single position here.
std::string slip_curve_csv(const CaseResult& result);

/// All running curves one after the other, with `purpose` as the last column: "no load" (load angle
/// 0: cogging), "load" (as asked), "slip" (at the load angle of the peak).
std::string running_curve_csv(const CaseResult& result);

/// What `purpose` says of a running curve that was asked for.
std::string purpose_text(const RunningCurve& curve);

/// A number of a table: twelve digits, dot decimal.
std::string cell(double x);

/// A text of a table, in quotes where RFC 4180 asks for them.
std::string text_cell(const std::string& text);

}  // namespace lodegear
