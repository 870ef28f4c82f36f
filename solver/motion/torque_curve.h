// solver/motion/torque_curve.h — figures read from a torque curve: peak, stiffness, ripple,
// spectrum. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

namespace lodegear {

/// Even samples of a periodic function over one period, as a trigonometric polynomial: the curve
/// between the samples is their interpolation (an even sample count gives half weight to the last
/// order). Unit of the values as given.
class PeriodicCurve {
 public:
  explicit PeriodicCurve(std::vector<double> samples);
  /// t in periods: 0 … 1 runs once through.
  double at(double t) const;
  double slope(double t) const;  ///< per period
  double mean() const { return cosine_[0]; }
  /// Amplitude of cos and sin of order k together, k ≥ 1.
  double amplitude(int k) const;
  int n_orders() const { return static_cast<int>(cosine_.size()) - 1; }

 private:
  std::vector<double> cosine_, sine_;  // [0] the mean
};

struct Extreme {
  double at = 0.0;  ///< periods
  double value = 0.0;
};
/// Largest and smallest value between the samples too: dense look, then Newton on the slope.
Extreme maximum(const PeriodicCurve& curve);
Extreme minimum(const PeriodicCurve& curve);
/// The places of the largest sizes |value|, at most `most` local ones, none smaller than the
/// largest by more than `within`; the largest first.
std::vector<Extreme> tops(const PeriodicCurve& curve, double within, std::size_t most);

/// How a torque varies over one ripple period.
struct Ripple {
  double mean = 0.0;
  double peak_to_peak = 0.0;
  double smallest = 0.0, largest = 0.0;
  std::vector<double> amplitudes;  ///< of 1, 2, … ripple orders; the last resolved one left out
};
Ripple ripple(const std::vector<double>& torque_over_one_period);

}  // namespace lodegear
