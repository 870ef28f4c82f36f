// solver/gap/circle_orders.h — from the potential on a circle of element edges to its harmonics.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "mesh/member_mesh.h"

namespace lodegear {

// Amplitudes of K orders are kept as one vector of 2K: a_1 … a_K, then b_1 … b_K, of
//   A(θ) = A_0 + Σ_k a_k cos kθ + b_k sin kθ.                                        (theory 3.1)
// Order 0 never couples: the members carry no net current, so its flux through every circle is
// zero and the mean potential of each member is a free constant.

/// The 2K×2E matrix F with amplitudes = F · (nodal values of `circle`, in its order), E edges, for
/// the K orders first … last. The integrals a_k = (1/π) ∮ A cos kθ dθ of the quadratic trace are
/// exact, not collocated: the coupling is then a Galerkin method and the torque the derivative of
/// the discrete energy.
Eigen::MatrixXd circle_orders(const BoundaryCircle& circle, int first, int last);
/// Its columns for the first n_nodes nodes only: of one sector.
Eigen::MatrixXd circle_orders(const BoundaryCircle& circle, int first, int last, int n_nodes);

/// Every order that the edges of a circle resolve: five nodes to the shortest wave. Up to it open
/// air is seen (theory 3.4).
inline int resolved_orders(const BoundaryCircle& circle) { return 2 * circle.n_edges() / 5; }

/// Amplitudes of the same function turned counter-clockwise by `angle` (rad).
Eigen::VectorXd turned(const Eigen::VectorXd& amplitudes, double angle);

}  // namespace lodegear
