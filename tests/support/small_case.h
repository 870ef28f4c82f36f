// tests/support/small_case.h — a gear that is solved in a blink, for tests of what comes after.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

/// 2/5/3 with linear pole pieces on a coarse mesh: no accuracy is claimed. More positions than one
/// block of a sweep, so that two threads share the work.
inline constexpr const char* small_case = R"(name = "small"

[gear]
sun_pole_pairs = 2
pole_pieces = 5
ring_pole_pairs = 3
stack_length_mm = 20

[sun.magnets]
grade = "N42"
inner_radius_mm = 10
outer_radius_mm = 14
pattern = "alternating radial"

[modulator]
material = "soft"
inner_radius_mm = 15
outer_radius_mm = 19
span_percent = 50
stacking_factor = 1.0

[ring.magnets]
grade = "N42"
inner_radius_mm = 20
outer_radius_mm = 24
pattern = "alternating radial"

[slip]
positions_per_period = 40

[running]
load_angles_deg = [0, 30]
positions_per_ripple = 4

[mesh]
fineness = 0.5

[materials.soft]
kind = "steel"
mu_r = 1000
)";

}  // namespace lodegear
