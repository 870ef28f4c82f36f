// solver/post/air.h — what heat and drag need to know of the fluid around and inside a gear.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

/// A fluid at one temperature and pressure.
struct Fluid {
  double density = 0.0;       ///< kg/m³
  double viscosity = 0.0;     ///< dynamic, Pa·s
  double conductivity = 0.0;  ///< W/(m·K)
  double prandtl = 0.0;       ///< 1
  double expansion = 0.0;     ///< 1/K, of volume
  double kinematic_viscosity() const { return viscosity / density; }
};

/// Dry air at 101325 Pa and `celsius` (−50 to 200 °C, within 2 % of tables): perfect gas, with
/// Sutherland's laws for viscosity (1.716e-5 Pa·s, 111 K) and conductivity (0.0241 W/(m·K), 194 K)
/// from 273 K, c_p 1007 J/(kg·K). Source: White, Viscous Fluid Flow, 2nd ed. (1991), §1-3 (from
/// memory).
Fluid air_at(double celsius);

}  // namespace lodegear
