// materials/reluctivity.h — ν(B²) of a material, its slope and its energy, as the field solver
// needs it. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "materials/constants.h"

namespace lodegear {

/// H = ν B at one flux density.
struct ReluctivityPoint {
  double nu = nu0;       ///< m/H
  double dnu_db2 = 0.0;  ///< dν/d(B²), m/(H·T²)
  double energy = 0.0;   ///< w = ∫0^B H dB', J/m³
};

class BhCurve;

/// An isotropic, single-valued, monotone law. Plain value; copies are cheap enough to keep one per
/// region. dH/dB is positive, so that ν I + 2 ν′ b bᵀ is positive definite and Newton's energy is
/// convex, and never above ν0 except inside tables that jump to saturation in one step (see
/// limited_slopes in monotone_cubic.h). H, dH/dB and the energy are continuous everywhere, and the
/// three members of a point are exact derivatives and integrals of one another.
class Reluctivity {
 public:
  /// H = ν B.
  static Reluctivity constant(double nu);
  /// From a checked table: monotone C¹ piecewise cubic H(B), straight start, slope ν0 beyond it.
  static Reluctivity from_curve(const BhCurve& curve);
  /// H = (k1 exp(k2 B²) + k3) B up to where dH/dB reaches ν0, then slope ν0 (units A/(m·T), 1/T²,
  /// A/(m·T)). Throws InputError unless k1, k2, k3 ≥ 0, 0.5 ≤ k1 + k3 ≤ ν0 and, if k1 k2 > 0, the
  /// slope ν0 is reached below 5 T.
  /// Source: Brauer, IEEE Trans. Magn. 11 (1975) 81.
  static Reluctivity exponential(double k1, double k2, double k3);

  /// b2 = B² in T², any non-negative value.
  ReluctivityPoint at(double b2) const { return with_energy(without_energy(b2), b2); }
  /// The same with energy 0, in half the time.
  ReluctivityPoint without_energy(double b2) const;
  bool operator==(const Reluctivity&) const = default;
  bool linear() const { return kind_ == Kind::constant; }
  /// Flux density above which the law is extrapolated with slope ν0 [T]; 0 for a constant.
  double last_known_b() const { return kind_ == Kind::constant ? 0.0 : b_end_; }

 private:
  Reluctivity() = default;
  enum class Kind { constant, table, exponential };
  // H = h + slope x + c2 x² + c3 x³ with x = B − b; `energy` is w at b.
  struct Cubic {
    double b, h, slope, c2, c3, energy;
    bool operator==(const Cubic&) const = default;
  };
  ReluctivityPoint with_energy(ReluctivityPoint point, double b2) const;
  const Cubic& cubic_at(double b) const;
  void index_pieces();

  Kind kind_ = Kind::constant;
  double nu_start_ = nu0;                           // ν of a constant, or for B ≤ b_start_
  double b_start_ = 0.0;                            // the table is straight below
  double b_end_ = 0.0, h_end_ = 0.0, w_end_ = 0.0;  // slope ν0 beyond
  double k1_ = 0.0, k2_ = 0.0, k3_ = 0.0;
  std::vector<Cubic> pieces_;
  std::vector<int> first_piece_;  // of each of the equal steps in B from 0 to b_end_
  double steps_per_tesla_ = 0.0;
};

/// Flux density at which the law has the field H ≥ 0 [A/m → T], to the last bits.
double flux_density_at(const Reluctivity& law, double h);

}  // namespace lodegear
