// mesh/ladder.h — one number for how fine everything is.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/mesh_plan.h"

namespace lodegear {

// Orders, gap circles and triangles cost and err together, so they grow together: a rung of this
// ladder is one number, the level, and a whole level more leaves about a quarter of the error. Two
// neighbouring rungs then tell how far off the upper one still is (cases/accuracy.h).
//
//   what                                        at level x                          error left
//   orders K of a gap of length g at radius r   w (2 + x) r/g, but at least 1.2     e^(−K g/r) …
//                                               times the pole pairs of each rotor
//   lengths of triangles                        1/f, f = 0.35 · 2^(x/2)             f^−4
//   length at a corner of steel                 1/(24 f³): B ~ r^(−1/3) there       (f³)^(−4/3) =
//   f^−4 edges of a gap circle                       the larger of 2.4 K and a length of
//                                               1.8/f times the layer beside it
//
// w is 1 where ripple comes often and strongly, i.e. where LCM(2p_s, n) is small: many pairs of
// orders then add up in one torque. From LCM 32 on it falls, to 0.6 at 96. Measured on
// tests/support/varied_gears.h; the errors of slip torque are in DEVELOPERS.md.

inline constexpr double highest_level = 3.5;

/// LCM(2p_s, n): the lowest order of the torque ripple, and of the harmonics that carry it. 0
/// without a rotor or a modulator.
int ripple_order(const Gear& gear);
/// Ripple of higher orders is not followed: the equations of the gaps would grow too large.
inline constexpr int highest_ripple_order = 200;

/// The rung at `level`, a whole number or not. With `carry_ripple` K lies some odd
/// multiples of the sun's pole pairs above ripple_order(gear) at least.
Resolution resolution_for(const Gear& gear, double level, bool carry_ripple);

}  // namespace lodegear
