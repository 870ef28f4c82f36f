// solver/gap/gap_field.cpp — the field in a gap annulus from its harmonics: flux density, torque,
// force. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/gap/gap_field.h"

#include <cassert>
#include <cmath>

#include "materials/constants.h"

namespace lodegear {

namespace {

// sinh(a)/sinh(b) and cosh(a)/sinh(b) for 0 ≤ a ≤ b, without overflow.
double sinh_ratio(double a, double b) {
  return std::exp(a - b) * std::expm1(-2 * a) / std::expm1(-2 * b);
}
double cosh_ratio(double a, double b) {
  return std::exp(a - b) * (1 + std::exp(-2 * a)) / -std::expm1(-2 * b);
}

}  // namespace

FluxHarmonics flux_harmonics(const GapField& gap, double r) {
  assert(gap.r_inner <= r * (1 + 1e-12) && r <= gap.r_outer * (1 + 1e-12));
  const int n = gap.n_orders();
  const double length = std::log(gap.r_outer / gap.r_inner);
  const double up = std::max(0.0, std::log(r / gap.r_inner));
  const double down = std::max(0.0, std::log(gap.r_outer / r));
  FluxHarmonics h{Eigen::VectorXd(n), Eigen::VectorXd(n), Eigen::VectorXd(n), Eigen::VectorXd(n)};
  for (int k = 1; k <= n; ++k) {
    const double from_inner = sinh_ratio(k * down, k * length);
    const double from_outer = sinh_ratio(k * up, k * length);
    const double slope_inner = -cosh_ratio(k * down, k * length);
    const double slope_outer = cosh_ratio(k * up, k * length);
    const double ai = gap.at_inner[k - 1], bi = gap.at_inner[n + k - 1];
    const double ao = gap.at_outer[k - 1], bo = gap.at_outer[n + k - 1];
    // B_r = (1/r) ∂A/∂θ, B_θ = −∂A/∂r.
    h.r_cos[k - 1] = k / r * (from_inner * bi + from_outer * bo);
    h.r_sin[k - 1] = -k / r * (from_inner * ai + from_outer * ao);
    h.t_cos[k - 1] = -k / r * (slope_inner * ai + slope_outer * ao);
    h.t_sin[k - 1] = -k / r * (slope_inner * bi + slope_outer * bo);
  }
  return h;
}

Eigen::Vector2d flux_density(const FluxHarmonics& h, double theta) {
  Eigen::Vector2d b = Eigen::Vector2d::Zero();
  for (Eigen::Index k = 1; k <= h.r_cos.size(); ++k) {
    const double c = std::cos(static_cast<double>(k) * theta);
    const double s = std::sin(static_cast<double>(k) * theta);
    b[0] += h.r_cos[k - 1] * c + h.r_sin[k - 1] * s;
    b[1] += h.t_cos[k - 1] * c + h.t_sin[k - 1] * s;
  }
  return b;
}

double gap_torque(const GapField& gap) {
  const int n = gap.n_orders();
  const double length = std::log(gap.r_outer / gap.r_inner);
  double sum = 0.0;
  for (int k = 1; k <= n; ++k) {
    const double inverse_sinh = 2 * std::exp(-k * length) / -std::expm1(-2 * k * length);
    sum += k * static_cast<double>(k) * inverse_sinh *
           (gap.at_inner[k - 1] * gap.at_outer[n + k - 1] -
            gap.at_inner[n + k - 1] * gap.at_outer[k - 1]);
  }
  return pi * nu0 * sum;
}

Eigen::Vector2d gap_force(const GapField& gap) {
  const double r = std::sqrt(gap.r_inner * gap.r_outer);
  const FluxHarmonics harmonics = flux_harmonics(gap, r);
  const int n_angles = 4 * gap.n_orders() + 4;
  Eigen::Vector2d force = Eigen::Vector2d::Zero();
  for (int i = 0; i < n_angles; ++i) {
    const double theta = 2 * pi * i / n_angles;
    const Eigen::Vector2d b = flux_density(harmonics, theta);
    const double normal = 0.5 * nu0 * (b[0] * b[0] - b[1] * b[1]);
    const double shear = nu0 * b[0] * b[1];
    force += Eigen::Vector2d(normal * std::cos(theta) - shear * std::sin(theta),
                             normal * std::sin(theta) + shear * std::cos(theta));
  }
  return force * (2 * pi * r / n_angles);
}

}  // namespace lodegear
