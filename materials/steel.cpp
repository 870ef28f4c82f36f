// materials/steel.cpp — from a steel to the law the field solver uses.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/steel.h"

#include <cassert>

namespace lodegear {

namespace {

struct Stack {
  double f;
  SteelQuality quality;
  const std::vector<GuaranteedPoint>& guaranteed;

  Reluctivity operator()(const ConstantPermeability& law) const {
    return Reluctivity::constant(nu0 / (f * law.mu_r + 1.0 - f));
  }

  Reluctivity operator()(const ExponentialLaw& law) const {
    const Reluctivity solid = Reluctivity::exponential(law.k1, law.k2, law.k3);
    if (f == 1.0) return solid;
    if (solid.linear()) return (*this)(ConstantPermeability{nu0 / solid.at(0.0).nu});
    return Reluctivity::from_curve(stacked(sampled(solid), f));
  }

  Reluctivity operator()(const BhCurve& typical) const {
    const BhCurve solid = quality == SteelQuality::guaranteed_minimum
                              ? guaranteed_minimum(typical, guaranteed)
                              : typical;
    return Reluctivity::from_curve(f == 1.0 ? solid : stacked(solid, f));
  }

  /// A table of the law, close enough that its cubic differs by less than a thousandth in H.
  static BhCurve sampled(const Reluctivity& law) {
    constexpr int n = 200;
    std::vector<BhPoint> points;
    for (int i = 1; i <= n; ++i) {
      const double b = law.last_known_b() * i / n;
      points.push_back({law.at(b * b).nu * b, b});
    }
    const BhPoint end = points.back();
    for (const double further : {0.2, 0.4})
      points.push_back({end.h + nu0 * further, end.b + further});
    return BhCurve(std::move(points), 100.0);  // a law of someone's choice may exceed pure iron
  }
};

}  // namespace

Reluctivity reluctivity(const Steel& steel, double stacking_factor, SteelQuality quality) {
  assert(stacking_factor > 0.0 && stacking_factor <= 1.0);
  return std::visit(Stack{stacking_factor, quality, steel.guaranteed}, steel.law);
}

}  // namespace lodegear
