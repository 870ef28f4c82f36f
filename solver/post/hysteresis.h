// solver/post/hysteresis.h — the loops a flux density runs through in one period.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

namespace lodegear {

/// Ranges (highest less lowest value) of the closed loops in one period of a periodic series, the
/// largest first. A constant has none. Loops are told apart as they are in counting fatigue: going
/// up and down, the smallest turn is taken out as a loop of its own, again and again.
std::vector<double> loop_ranges(const std::vector<double>& series);

/// Hysteresis loss of all loops over that of the largest alone, p ~ B^alpha:
///
///   Σ min(1, 0.65 ΔB_i/B_m) with the largest counted 1,   B_m half its range (theory 8.4)
///
/// 0.65: Lavers, Biringer, Hollitscher, IEEE Trans. Magn. 14 (1978) 386 (from memory; 0.6 to 0.7).
/// The bound of 1 a loop is this project's own, so that n equal loops count n.
double loop_factor(const std::vector<double>& ranges);

/// Loss under a rotating over that under an alternating flux of the same peak [T]: 2 up to 1.2 T,
/// falling evenly to 1 at 1.6 T and staying there, which is cautious: near saturation rotational
/// hysteresis vanishes (from memory, engineering judgement).
double rotation_factor(double peak_b);

}  // namespace lodegear
