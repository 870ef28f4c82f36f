// solver/gap/gap_field.h — the field in a gap annulus from its harmonics: flux density, torque,
// force. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

namespace lodegear {

/// A_z in the annulus of a gap, in the laboratory frame, by its amplitudes on the two circles.
struct GapField {
  double r_inner = 0.0, r_outer = 0.0;  // m
  Eigen::VectorXd at_inner, at_outer;   // 2K each, Wb/m: a_1…a_K, b_1…b_K
  int n_orders() const { return static_cast<int>(at_inner.size() / 2); }
};

/// Harmonics of the flux density on a circle of radius r:
///   B_r = Σ r_cos cos kθ + r_sin sin kθ,   B_θ = Σ t_cos cos kθ + t_sin sin kθ.  K each, T.
struct FluxHarmonics {
  Eigen::VectorXd r_cos, r_sin, t_cos, t_sin;
};
/// r in [r_inner, r_outer].
FluxHarmonics flux_harmonics(const GapField& gap, double r);
/// (B_r, B_θ) at polar angle theta.
Eigen::Vector2d flux_density(const FluxHarmonics& harmonics, double theta);

/// Torque per metre of stack on everything inside the gap [N·m/m], counter-clockwise positive:
///   T/L = π ν0 Σ_k k²/sinh(kL) (a_i b_o − b_i a_o).                                (theory 4.1)
/// The derivative of the annulus energy (theory 3.2) when the inner side turns; the radius has
/// cancelled. What lies outside the gap feels −T/L.
double gap_torque(const GapField& gap);

/// Net force per metre on everything inside the gap [N/m] (x, y): Maxwell stress on the circle in
/// the middle; only neighbouring orders contribute. Source: Jackson, Classical Electrodynamics,
/// 3rd ed., §6.7. The sum over 4K+4 angles is exact for the products of K orders.
Eigen::Vector2d gap_force(const GapField& gap);

}  // namespace lodegear
