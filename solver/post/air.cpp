// solver/post/air.cpp — what heat and drag need to know of the fluid around and inside a gear.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/air.h"

#include <cmath>

namespace lodegear {

namespace {

double sutherland(double kelvin, double at_273, double constant) {
  return at_273 * std::pow(kelvin / 273.0, 1.5) * (273.0 + constant) / (kelvin + constant);
}

}  // namespace

Fluid air_at(double celsius) {
  const double kelvin = celsius + 273.15;
  const double viscosity = sutherland(kelvin, 1.716e-5, 111.0);
  const double conductivity = sutherland(kelvin, 0.0241, 194.0);
  return {.density = 101325.0 / (287.05 * kelvin),
          .viscosity = viscosity,
          .conductivity = conductivity,
          .prandtl = viscosity * 1007.0 / conductivity,
          .expansion = 1.0 / kelvin};
}

}  // namespace lodegear
