// solver/gap/annulus.h — the air annulus in a gap as an exact stiffness, order by order.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

namespace lodegear {

// Between circles of radius r_i and r_o, with L = ln(r_o/r_i), the field of order k stores per
// metre
//   W_k = ½ π ν0 k [ coth(kL) (c_i² + c_o²) − 2/sinh(kL) c_i·c_o ],                  (theory 3.2)
// c = (a, b) the amplitudes on the two circles in one common frame. The flux loads q = ∂W/∂c obey
//   c_i = (coth q_i + q_o / sinh) / (π ν0 k),   c_o = (q_i / sinh + coth q_o) / (π ν0 k),   (3.3)
// the same 2×2 form because coth² − 1/sinh² = 1. Written with L no power of r ever overflows.

/// The compliance (3.3) of an annulus; entry k-1 belongs to order k. Unit of both: H (per metre).
struct AnnulusCompliance {
  Eigen::VectorXd own;    ///< coth(kL) / (π ν0 k)
  Eigen::VectorXd cross;  ///< 1 / (sinh(kL) π ν0 k)
};
AnnulusCompliance annulus_compliance(double r_inner, double r_outer, int n_orders);

/// The same for the air inside a bore or outside the last circle, where the field dies out:
/// c = q / (π ν0 k), whatever the radius.                                             (theory 3.4)
Eigen::VectorXd open_air_compliance(int n_orders);

}  // namespace lodegear
