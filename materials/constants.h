// materials/constants.h — the physical constants the field needs.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <numbers>

namespace lodegear {

inline constexpr double pi = std::numbers::pi;

/// Permeability of vacuum [H/m]. CODATA 2018 gives 1.25663706212e-6, 5e-10 off 4π·1e-7; the older
/// exact value is kept because handbook results are printed with it.
inline constexpr double mu0 = 4e-7 * pi;
inline constexpr double nu0 = 1.0 / mu0;  ///< reluctivity of vacuum [m/H]

}  // namespace lodegear
