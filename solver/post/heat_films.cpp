// solver/post/heat_films.cpp — how heat leaves a surface: films of air, radiation, fins.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/heat_films.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"

namespace lodegear {

namespace {

constexpr double gravity = 9.81;                // m/s²
constexpr double stefan_boltzmann = 5.6704e-8;  // W/(m²K⁴), CODATA
constexpr double zero_celsius = 273.15;         // K

double square(double x) { return x * x; }

}  // namespace

double taylor_number(const GapFlow& gap, double kinematic_viscosity) {
  const double width = gap.outer_radius - gap.inner_radius;
  const double fall =
      gap.inner_speed * square(gap.inner_radius) - gap.outer_speed * square(gap.outer_radius);
  const double taylor_squared = square(width) * width * fall * (gap.inner_speed + gap.outer_speed) /
                                (gap.inner_radius * square(kinematic_viscosity));
  return std::sqrt(std::max(0.0, taylor_squared));
}

double gap_nusselt(double taylor, double prandtl) {
  if (taylor < 41) return 2.0;
  const double fit = taylor < 100 ? 0.202 * std::pow(taylor, 0.63) : 0.386 * std::sqrt(taylor);
  return std::max(2.0, fit * std::pow(prandtl, 0.27));
}

double gap_film(const GapFlow& gap, const Fluid& fluid) {
  const double taylor = taylor_number(gap, fluid.kinematic_viscosity());
  return 0.5 * gap_nusselt(taylor, fluid.prandtl) * fluid.conductivity /
         (gap.outer_radius - gap.inner_radius);
}

double churchill_chu_nusselt(double rayleigh, double prandtl) {
  const double turn = std::pow(1 + std::pow(0.559 / prandtl, 9.0 / 16), 8.0 / 27);
  return square(0.60 + 0.387 * std::pow(rayleigh, 1.0 / 6) / turn);
}

double natural_film_cylinder(double diameter, double surface, double ambient) {
  const Fluid air = air_at(0.5 * (surface + ambient));
  const double rayleigh = gravity * air.expansion * std::abs(surface - ambient) * square(diameter) *
                          diameter * air.prandtl / square(air.kinematic_viscosity());
  return churchill_chu_nusselt(rayleigh, air.prandtl) * air.conductivity / diameter;
}

double natural_film_plate(double height, double surface, double ambient) {
  return 1.42 * std::pow(std::abs(surface - ambient) / height, 0.25);
}

double rotating_film_cylinder(double diameter, double speed, const Fluid& fluid) {
  const double reynolds = std::abs(speed) * square(diameter) / (2 * fluid.kinematic_viscosity());
  return 0.133 * std::pow(reynolds, 2.0 / 3) * std::cbrt(fluid.prandtl) * fluid.conductivity /
         diameter;
}

double rotating_film_disc(double speed, const Fluid& fluid) {
  return 0.36 * fluid.conductivity * std::sqrt(std::abs(speed) / fluid.kinematic_viscosity());
}

double radiation_film(double emissivity, double surface, double ambient) {
  const double a = surface + zero_celsius, b = ambient + zero_celsius;
  return emissivity * stefan_boltzmann * (square(a) + square(b)) * (a + b);
}

double fin_conductance(double diameter, double length, double conductivity, double film) {
  const double m = 2 * std::sqrt(film / (conductivity * diameter));
  return conductivity * pi * square(diameter) / 4 * m * std::tanh(m * length);
}

}  // namespace lodegear
