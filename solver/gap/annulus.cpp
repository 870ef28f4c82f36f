// solver/gap/annulus.cpp — the air annulus in a gap as an exact stiffness, order by order.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/gap/annulus.h"

#include <cassert>
#include <cmath>

#include "materials/constants.h"

namespace lodegear {

AnnulusCompliance annulus_compliance(double r_inner, double r_outer, int n_orders) {
  assert(0 < r_inner && r_inner < r_outer);
  const double log_ratio = std::log(r_outer / r_inner);
  AnnulusCompliance compliance{open_air_compliance(n_orders), open_air_compliance(n_orders)};
  for (int k = 1; k <= n_orders; ++k) {
    const double x = k * log_ratio;
    compliance.own[k - 1] /= std::tanh(x);
    compliance.cross[k - 1] *= 2 * std::exp(-x) / -std::expm1(-2 * x);  // 1/sinh, no overflow
  }
  return compliance;
}

Eigen::VectorXd open_air_compliance(int n_orders) {
  return (pi * nu0 * Eigen::VectorXd::LinSpaced(n_orders, 1, n_orders)).cwiseInverse();
}

}  // namespace lodegear
