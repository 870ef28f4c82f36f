// tests/analytic/coupling_kernel.h — a coupling of finite length between yokes without end.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

namespace lodegear {

/// Two radially magnetised rings, Ri..R2 and R5..Ro, on ideal iron at Ri and Ro that does not end;
/// recoil permeability 1; order n around the circle. With magnets of length L, zero potential on
/// the iron and e^{ikz} along the axis, torque is
///   T/(T′L) = (L/π) ∫_0^∞ sinc²(kL/2) K(k)/K(0) dk,     K = F1 F2/D,
///   u(r) = I(kr)K(kRi) − K(kr)I(kRi),   v(r) = I(kRo)K(kr) − K(kRo)I(kr),
///   F1 = ∫_Ri^R2 r u′ dr,   F2 = ∫_R5^Ro r v′ dr,   D = I(kRo)K(kRi) − K(kRo)I(kRi),
/// I, K the modified Bessel functions of order n. Derived by Fourier transform along z; the radial
/// functions: Jackson, Classical Electrodynamics, 3rd ed., §3.11. In the plane
/// T′ = −(π/µ0) n b1 b2 K(0) sin(nd) for remanence amplitudes b1, b2.
class CouplingKernel {
 public:
  CouplingKernel(int n, double Ri, double R2, double R5, double Ro)
      : n_(n), Ri_(Ri), R2_(R2), R5_(R5), Ro_(Ro), at_zero_(value(least())) {
    // K falls as e^{−k gap}. Beyond k Ro = 590 the Bessel functions leave the range of a double.
    k_max_ = std::min(22.0 / (R5 - R2), 590.0 / Ro);
    for (int i = 0; i <= knots; ++i) {
      const double t = double(i) / knots;
      table_[static_cast<std::size_t>(i)] =
          i == 0 ? 1.0 : value(std::max(least(), k_max_ * t * t)) / at_zero_;
    }
  }

  double at_zero() const { return at_zero_; }

  /// T/(T′L) by Simpson's rule with at least 24 points in each swing of the sine.
  double ratio(double L) const {
    const int n = 2 * std::max(600, static_cast<int>(std::ceil(12 * k_max_ * L / (2 * pi_))));
    const double h = k_max_ / n;
    double sum = 0.0;
    for (int i = 0; i <= n; ++i) {
      const double x = i * h * L / 2, s = x == 0.0 ? 1.0 : std::sin(x) / x;
      sum += (i == 0 || i == n ? 1.0 : i % 2 == 1 ? 4.0 : 2.0) * s * s * interpolated(i * h);
    }
    return L / pi_ * sum * h / 3;
  }

  double value(double k) const {
    const double Ii = bessel_i(k * Ri_), Ki = bessel_k(k * Ri_), Io = bessel_i(k * Ro_),
                 Ko = bessel_k(k * Ro_);
    const double f1 = integral(
        Ri_, R2_, [&](double r) { return k * r * (slope_i(k * r) * Ki - slope_k(k * r) * Ii); });
    const double f2 = integral(
        R5_, Ro_, [&](double r) { return k * r * (Io * slope_k(k * r) - Ko * slope_i(k * r)); });
    return f1 * f2 / (Io * Ki - Ko * Ii);
  }

 private:
  static constexpr int knots = 200;  // in √k; enough for 1e-5 of the ratio
  static constexpr double pi_ = std::numbers::pi;

  /// Stands for zero: K differs by 1e-5 there, and the Bessel functions are still in range.
  double least() const { return 0.005 * n_ / Ro_; }
  double bessel_i(double x) const { return std::cyl_bessel_i(n_, x); }
  double bessel_k(double x) const { return std::cyl_bessel_k(n_, x); }
  double slope_i(double x) const {
    return (std::cyl_bessel_i(n_ - 1, x) + std::cyl_bessel_i(n_ + 1, x)) / 2;
  }
  double slope_k(double x) const {
    return -(std::cyl_bessel_k(n_ - 1, x) + std::cyl_bessel_k(n_ + 1, x)) / 2;
  }

  /// Eight panels of three Gauss points.
  template <class F>
  static double integral(double a, double b, F f) {
    constexpr int panels = 8;
    const double h = (b - a) / panels, outer = std::sqrt(0.6);
    double sum = 0.0;
    for (int i = 0; i < panels; ++i) {
      const double middle = a + (i + 0.5) * h;
      sum +=
          h / 18 * (5 * f(middle - outer * h / 2) + 8 * f(middle) + 5 * f(middle + outer * h / 2));
    }
    return sum;
  }

  /// Cubic through the four knots about k, in t = √(k/k_max).
  double interpolated(double k) const {
    const double t = std::sqrt(std::min(k / k_max_, 1.0)) * knots;
    const int i = std::clamp(static_cast<int>(t), 1, knots - 2);
    double sum = 0.0;
    for (int a = i - 1; a <= i + 2; ++a) {
      double weight = 1.0;
      for (int b = i - 1; b <= i + 2; ++b)
        if (b != a) weight *= (t - b) / (a - b);
      sum += weight * table_[static_cast<std::size_t>(a)];
    }
    return sum;
  }

  int n_;
  double Ri_, R2_, R5_, Ro_, at_zero_, k_max_ = 0.0;
  std::array<double, knots + 1> table_{};
};

}  // namespace lodegear
