// cases/block_fit.h — how rectangular blocks stand around an axis.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

// A block and its clearance span the angle 2 atan((w/2 + c)/(a − c)) at the distance a of its inner
// face from the axis; the blocks of a circle fit if that is at most their pitch.
//
//        ______ w ______
//       |    block      |
//       |_______________|  ← inner face, distance a from the axis

/// Millimetres.
struct BlockPlace {
  double width_mm = 0.0;      ///< w, along the circle
  double thickness_mm = 0.0;  ///< along the radius
  double clearance_mm = 0.1;  ///< c, on every side
};

/// Half of what a block with its clearance takes along the circle.
double half_width(const BlockPlace& block);

/// Least distance of the inner faces at which `n` blocks fit around the axis.
double least_face_distance(const BlockPlace& block, int n);

/// How many fit side by side in each pole with the inner faces at that distance; 0 to 64.
int blocks_per_pole(const BlockPlace& block, int pole_pairs, double face_distance);

/// Distance of the inner faces at which the outer corners lie at `corner_radius`, rounded down to a
/// twentieth; 0 if there is none.
double seat_below_corner(const BlockPlace& block, double corner_radius);

/// Millimetres to a twentieth.
double twentieth_down(double mm);
double twentieth_up(double mm);

}  // namespace lodegear
