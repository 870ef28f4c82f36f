// materials/reluctivity.h — ν(B²) of a material, its slope and its energy, as the field solver needs it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "materials/constants.h"

namespace lodegear {

/// H = ν B at one flux density.
struct ReluctivityPoint {
  double nu = nu0;        ///< m/H
  double dnu_db2 = 0.0;   ///< dν/d(B²), m/(H·T²)
  double energy = 0.0;    ///< w = ∫0^B H dB', J/m³
};

class BhCurve;

/// An isotropic, single-valued, monotone law. Plain value; copies are cheap enough to keep one per
/// region. dH/dB is positive and never above ν0 outside tables that say so, so that ν I + 2 ν′ b bᵀ
/// is positive definite and Newton's energy is convex.
class Reluctivity {
 public:
  /// H = ν B.
  static Reluctivity constant(double nu);
  /// From a checked table: monotone C¹ piecewise cubic H(B), straight start, slope ν0 beyond it.
  static Reluctivity from_curve(const BhCurve& curve);
  /// H = (k1 exp(k2 B²) + k3) B up to where dH/dB reaches ν0, then slope ν0 (units T, A/m).
  /// Source: Brauer, IEEE Trans. Magn. 11 (1975) 81.
  static Reluctivity exponential(double k1, double k2, double k3);

  /// b2 = B² in T², any non-negative value.
  ReluctivityPoint at(double b2) const;
  bool linear() const { return linear_; }

 private:
  Reluctivity() = default;
  // H(B) on [b_[i], b_[i+1]] is a cubic with coefficients c_[i]; beyond the last point slope ν0.
  struct Cubic {
    double h, slope, c2, c3, energy;  // h + slope x + c2 x² + c3 x³, x = B − b_i; energy at b_i
  };
  bool linear_ = true;
  double nu_start_ = nu0;   // ν for B ≤ b_[1], where the curve is straight
  std::vector<double> b_;
  std::vector<Cubic> c_;
};

}  // namespace lodegear
