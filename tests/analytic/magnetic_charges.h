// tests/analytic/magnetic_charges.h — fields and torques as plain sums over magnetic charges.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "tests/analytic/closed_forms.h"

namespace lodegear {

inline constexpr double pi_ = std::numbers::pi;
using Complex = std::complex<double>;

// Magnetic charges, the brute force of the tests: q [T·m] at z gives B_x − i B_y = q/(2π (z' − z))
// in air (Jackson, 3rd ed., §5.9: ρ = −div B_rem in the magnet, B_rem · n on its surface, mu_r =
// 1).
struct Charge {
  Complex z;
  double q;
};
using Charges = std::vector<Charge>;

inline Complex field(const Charges& charges, Complex z) {
  Complex sum = 0.0;
  for (const auto& [at, q] : charges) sum += q / (2.0 * pi_ * (z - at));
  return sum;
}

/// (B_r, B_theta) of B_x − i B_y at polar angle t.
inline Eigen::Vector2d polar(Complex b, double t) {
  const Complex turned = b * std::polar(1.0, t);
  return {turned.real(), -turned.imag()};
}

/// Torque on the charges `on` in the field of `by` [N·m/m].
inline double torque(const Charges& on, const Charges& by) {
  double sum = 0.0;
  for (const auto& [z, q] : on) sum += q / mu0_exact * -(z * field(by, z)).imag();
  return sum;
}

/// 8-point Gauss rule on [a, b]: calls add(x, weight).
template <class Add>
void gauss(double a, double b, int n_panels, Add add) {
  constexpr double x[] = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                          0.9602898564975363};
  constexpr double w[] = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                          0.1012285362903763};
  const double half = (b - a) / (2.0 * n_panels);
  for (int panel = 0; panel < n_panels; ++panel) {
    const double middle = a + (2 * panel + 1) * half;
    for (int i = 0; i < 4; ++i)
      for (const double side : {-1.0, 1.0}) add(middle + side * half * x[i], half * w[i]);
  }
}

/// Charges of one harmonic ring; equal steps in angle converge exponentially, 400 are plenty.
inline Charges harmonic_ring(const MagnetHarmonic& m, double R1, double R2, double turned = 0.0) {
  constexpr int n_angles = 400;
  Charges list;
  for (int i = 0; i < n_angles; ++i) {
    const double t = 2.0 * pi_ * i / n_angles, step = 2.0 * pi_ / n_angles;
    const Complex unit = std::polar(1.0, t + turned);
    const double cosine = std::cos(m.n * t);
    list.push_back({R2 * unit, m.br * cosine * R2 * step});
    list.push_back({R1 * unit, -m.br * cosine * R1 * step});
    // −div = −(br + n bt)/r cos nt, times the area r dr dt
    gauss(R1, R2, 2, [&](double r, double w) {
      list.push_back({r * unit, -(m.br + m.n * m.bt) * cosine * w * step});
    });
  }
  return list;
}

/// Surface charges of a sector R1..R2, centre t, half width `half`, uniform remanence br at
/// `angle`.
inline void add_sector(Charges& list, double R1, double R2, double t, double half, double br,
                       double angle) {
  gauss(t - half, t + half, 8, [&](double s, double w) {
    const double normal = br * std::cos(angle - s);
    list.push_back({std::polar(R2, s), normal * R2 * w});
    list.push_back({std::polar(R1, s), -normal * R1 * w});
  });
  for (const double side : {-1.0, 1.0}) {
    const double edge = t + side * half;
    gauss(R1, R2, 8, [&](double r, double w) {
      list.push_back({std::polar(r, edge), side * br * std::sin(angle - edge) * w});
    });
  }
}

}  // namespace lodegear
