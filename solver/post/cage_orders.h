// solver/post/cage_orders.h — how the potential of a cage of pole pieces looks order by order.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "solver/post/end_effect_input.h"

namespace lodegear {

inline constexpr int n_slot_shapes = 2;  ///< even and odd across a slot
inline constexpr int n_cage_shapes = 1 + n_slot_shapes;

using CageShape = Eigen::Matrix<double, n_cage_shapes, 1>;
using CageMatrix = Eigen::Matrix<double, n_cage_shapes, n_cage_shapes>;

/// Pole pieces at potentials that turn by `phase` × pitch from one to the next; in the slots
/// between them the straight line from piece to piece and the two slot shapes of (theory 9.2).
class CageOrders {
 public:
  CageOrders(const EndCage& cage, int phase);

  int n_pieces() const { return n_; }
  double slot() const { return slot_; }  ///< angle, rad

  /// Amplitudes in order phase + k n of unit pole-piece potential, even and odd slot shape.
  CageShape amplitudes(int k) const;

  /// Energy of all orders but k = k_sun and k_ring on a surface of the cage, per unit length of the
  /// line that sweeps it, as if nothing but air lay before it (theory 9.3).
  CageMatrix surface_matrix(int k_sun, int k_ring) const;

  /// Energy per metre of stack of the step of unit potential from piece to piece across slots with
  /// radial sides, between two radii.
  double between_pieces(const RadialExtent& radii) const;

 private:
  int n_, phase_;
  double pitch_, slot_;
};

}  // namespace lodegear
