// cases/slip_chart.h — a slip curve drawn with letters, for a screen that shows nothing else.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/case_result.h"

namespace lodegear {

/// Torque on sun (s), modulator (m) and ring (r) against the load angle; * where curves meet. Empty
/// without a slip curve.
std::string slip_curve_chart(const CaseResult& result);

}  // namespace lodegear
