// materials/magnet.cpp — a permanent magnet material: recoil line, temperature, knee.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/magnet.h"

#include <algorithm>
#include <cmath>

namespace lodegear {

constexpr double knee_drop = 0.05;  // share of Br that J has lost at the knee
constexpr double reference_celsius = 20.0;

double typical_remanence(const MagnetMaterial& magnet) {
  return 0.5 * (magnet.remanence_min + magnet.remanence_max);
}

double remanence(const MagnetMaterial& magnet, double celsius) {
  const double rise = celsius - reference_celsius;
  return std::max(0.0, typical_remanence(magnet) * (1.0 + magnet.remanence_coefficient * rise));
}

std::optional<double> intrinsic_coercivity(const MagnetMaterial& magnet, double celsius) {
  if (!magnet.intrinsic_coercivity) return std::nullopt;
  const double rise = celsius - reference_celsius;
  const double most = magnet.working_temperature.value_or(celsius) - reference_celsius;
  const double straight = 1.0 + magnet.intrinsic_coefficient * rise;
  const double at_most = 1.0 + magnet.intrinsic_coefficient * most;
  const bool beyond = rise > most && most > 0.0 && at_most > 0.0;
  const double factor = beyond ? std::pow(at_most, rise / most) : std::max(0.0, straight);
  return *magnet.intrinsic_coercivity * factor;
}

std::optional<Knee> knee(const MagnetMaterial& magnet, double celsius, double squareness) {
  const std::optional<double> hcj = intrinsic_coercivity(magnet, celsius);
  if (!hcj) return std::nullopt;
  const double h = squareness * *hcj;
  const double br = remanence(magnet, celsius);
  return Knee{h, (1.0 - knee_drop) * br - mu0 * magnet.mu_rec * h};
}

double polarisation(const MagnetMaterial& magnet, double h, double celsius, double squareness) {
  const double br = remanence(magnet, celsius);
  const double chi = magnet.mu_rec - 1.0;
  const double recoil = br - chi * mu0 * h;
  const double hcj = intrinsic_coercivity(magnet, celsius).value_or(0.0);
  const double e = br - chi * mu0 * hcj;
  if (hcj <= 0.0 || br <= 0.0) return magnet.intrinsic_coercivity ? 0.0 : recoil;
  if (e <= knee_drop * br) return std::max(-br, recoil);  // the recoil line itself ends at HcJ
  const double k = std::log(knee_drop * br / e) / ((squareness - 1.0) * hcj);
  const double fallen = e * std::exp(std::min(700.0, k * (h - hcj)));
  return std::max(-br, recoil - fallen);
}

double normal_coercivity(const MagnetMaterial& magnet, double celsius, double squareness) {
  const double br = remanence(magnet, celsius);
  double below = 0.0, above = br / mu0;  // J ≤ Br, so B is negative beyond
  for (int i = 0; i < 200 && above > below; ++i) {
    const double middle = 0.5 * (below + above);
    const double b = polarisation(magnet, middle, celsius, squareness) - mu0 * middle;
    (b > 0.0 ? below : above) = middle;
  }
  return 0.5 * (below + above);
}

}  // namespace lodegear
