// solver/post/heat_shell.cpp — conduction through a hollow cylinder that heats itself evenly.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/heat_shell.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/constants.h"

namespace lodegear {

namespace {

double square(double x) { return x * x; }

void check(const HeatShell& s) {
  if (!(s.inner_radius >= 0 && s.outer_radius > s.inner_radius && s.length > 0 &&
        s.conductivity > 0))
    throw std::invalid_argument("a shell needs rising radii, a length and a conductivity");
}

// W/m³ of an even source.
double density(const HeatShell& s, double source) {
  return source / (pi * (square(s.outer_radius) - square(s.inner_radius)) * s.length);
}

// b of T = a + b ln r − q r²/(4k), 0 for a solid bar.
double logarithmic_part(const HeatShell& s, double source, double inner, double outer) {
  if (s.inner_radius == 0.0) return 0.0;
  const double q = density(s, source);
  const double parabola =
      q * (square(s.outer_radius) - square(s.inner_radius)) / (4 * s.conductivity);
  return (outer - inner + parabola) / std::log(s.outer_radius / s.inner_radius);
}

}  // namespace

ShellConductances shell_conductances(const HeatShell& shell) {
  check(shell);
  const double unit = 4 * pi * shell.conductivity * shell.length;
  if (shell.inner_radius == 0.0) return {.inner = 0.0, .outer = 2 * unit, .across = 0.0};
  const double a = square(shell.inner_radius), b = square(shell.outer_radius), d = b - a;
  const double ratio = std::log(shell.outer_radius / shell.inner_radius) / d;
  const double out = (1 - 2 * a * ratio) / unit;
  const double in = (2 * b * ratio - 1) / unit;
  const double mean = -(a + b - 4 * a * b * ratio) / (2 * unit * d);
  const double star = out * in + mean * (out + in);  // star to triangle
  return {.inner = out / star, .outer = in / star, .across = mean / star};
}

double shell_temperature(const HeatShell& shell, double source, double inner_surface,
                         double outer_surface, double r) {
  const double q = density(shell, source), b = square(shell.outer_radius);
  return outer_surface +
         logarithmic_part(shell, source, inner_surface, outer_surface) *
             std::log(r / shell.outer_radius) +
         q * (b - square(r)) / (4 * shell.conductivity);
}

double hottest_in_shell(const HeatShell& shell, double source, double inner_surface,
                        double outer_surface) {
  check(shell);
  if (shell.inner_radius == 0.0)
    return outer_surface + source / (4 * pi * shell.conductivity * shell.length);
  double hottest = std::max(inner_surface, outer_surface);
  if (source <= 0) return hottest;
  // dT/dr = 0 where r² = 2 k b/q.
  const double summit = 2 * shell.conductivity *
                        logarithmic_part(shell, source, inner_surface, outer_surface) /
                        density(shell, source);
  if (summit > square(shell.inner_radius) && summit < square(shell.outer_radius))
    hottest = std::max(
        hottest, shell_temperature(shell, source, inner_surface, outer_surface, std::sqrt(summit)));
  return hottest;
}

}  // namespace lodegear
