// solver/motion/torque_curve.cpp — figures read from a torque curve: peak, stiffness, ripple,
// spectrum. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/torque_curve.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/constants.h"

namespace lodegear {

PeriodicCurve::PeriodicCurve(std::vector<double> samples) {
  const std::size_t n = samples.size();
  if (n == 0) throw std::invalid_argument("a curve needs samples");
  const std::size_t orders = n / 2;
  for (std::size_t k = 0; k <= orders; ++k) {
    double c = 0.0, s = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      const double phase = 2 * pi * static_cast<double>((k * i) % n) / static_cast<double>(n);
      c += samples[i] * std::cos(phase);
      s += samples[i] * std::sin(phase);
    }
    const bool single = k == 0 || 2 * k == n;
    const double weight = (single ? 1.0 : 2.0) / static_cast<double>(n);
    cosine_.push_back(weight * c);
    sine_.push_back(single ? 0.0 : weight * s);
  }
}

double PeriodicCurve::at(double t) const {
  double value = 0.0;
  for (std::size_t k = 0; k < cosine_.size(); ++k) {
    const double phase = 2 * pi * static_cast<double>(k) * t;
    value += cosine_[k] * std::cos(phase) + sine_[k] * std::sin(phase);
  }
  return value;
}

double PeriodicCurve::slope(double t) const {
  double value = 0.0;
  for (std::size_t k = 1; k < cosine_.size(); ++k) {
    const double factor = 2 * pi * static_cast<double>(k), phase = factor * t;
    value += factor * (sine_[k] * std::cos(phase) - cosine_[k] * std::sin(phase));
  }
  return value;
}

double PeriodicCurve::amplitude(int k) const {
  const auto i = static_cast<std::size_t>(k);
  return std::hypot(cosine_.at(i), sine_.at(i));
}

namespace {

// The best of a dense look, then the zero of the slope beside it by bisection.
Extreme extreme(const PeriodicCurve& curve, double sign) {
  const int n = 32 * (curve.n_orders() + 1);
  Extreme best{0.0, curve.at(0.0)};
  for (int i = 1; i < n; ++i) {
    const double value = curve.at(static_cast<double>(i) / n);
    if (sign * value > sign * best.value) best = {static_cast<double>(i) / n, value};
  }
  double low = best.at - 1.0 / n, high = best.at + 1.0 / n;
  for (int step = 0; step < 60; ++step) {
    const double middle = 0.5 * (low + high);
    (sign * curve.slope(middle) > 0 ? low : high) = middle;
  }
  const double at = 0.5 * (low + high);
  if (sign * curve.at(at) > sign * best.value) best = {at, curve.at(at)};
  return best;
}

}  // namespace

Extreme maximum(const PeriodicCurve& curve) { return extreme(curve, 1.0); }
Extreme minimum(const PeriodicCurve& curve) { return extreme(curve, -1.0); }

std::vector<Extreme> tops(const PeriodicCurve& curve, double within, std::size_t most) {
  const int n = 32 * (curve.n_orders() + 1);
  const auto size = [&](int i) { return std::abs(curve.at(static_cast<double>(i) / n)); };
  std::vector<Extreme> found;
  double before = size(-1), here = size(0);
  for (int i = 0; i < n; ++i) {
    const double after = size(i + 1);
    if (here >= before && here > after) found.push_back({static_cast<double>(i) / n, here});
    before = here;
    here = after;
  }
  std::sort(found.begin(), found.end(),
            [](const Extreme& a, const Extreme& b) { return a.value > b.value; });
  std::size_t kept = 0;
  while (kept < std::min(most, found.size()) && found[kept].value >= found.front().value - within)
    ++kept;
  found.resize(kept);
  return found;
}

Ripple ripple(const std::vector<double>& torque_over_one_period) {
  const PeriodicCurve curve(torque_over_one_period);
  Ripple result;
  result.mean = curve.mean();
  result.smallest = minimum(curve).value;
  result.largest = maximum(curve).value;
  result.peak_to_peak = result.largest - result.smallest;
  const int resolved = (static_cast<int>(torque_over_one_period.size()) - 1) / 2;
  for (int k = 1; k <= resolved; ++k) result.amplitudes.push_back(curve.amplitude(k));
  return result;
}

}  // namespace lodegear
