// cases/units.h — from the units of a case file to SI, and the ranges its numbers may have.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <numbers>

#include "materials/table_reader.h"

namespace lodegear {

// Divisions, not products with 1e-3: 24 mm then is the double nearest to 0.024 m.
constexpr double from_mm(double x) { return x / 1000.0; }
constexpr double to_mm(double x) { return x * 1000.0; }
constexpr double from_deg(double x) { return x * std::numbers::pi / 180.0; }
constexpr double to_deg(double x) { return x * 180.0 / std::numbers::pi; }
constexpr double from_rpm(double x) { return x * std::numbers::pi / 30.0; }
constexpr double to_rpm(double x) { return x * 30.0 / std::numbers::pi; }

/// Lengths of parts, mm. A gear of more than ten metres, or a part below a micrometre, is a slip of
/// units.
inline constexpr Range length_range{.least = 0.001, .most = 10000.0};
/// Lengths that may be nothing, mm.
inline constexpr Range length_or_zero{.least = 0.0, .most = 10000.0};
/// Angles, degrees: up to ten turns either way.
inline constexpr Range angle_range{.least = -3600.0, .most = 3600.0};

}  // namespace lodegear
