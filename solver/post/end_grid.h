// solver/post/end_grid.h — grid lines in r and z for the field about the ends of a stack.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "solver/post/end_effect_input.h"

namespace lodegear {

/// From one end to the other along the axis, m.
struct AxialRange {
  double from = 0.0;
  double to = 0.0;
  double length() const { return to - from; }
};
AxialRange magnet_range(const EndRotor& rotor);
AxialRange iron_range(const EndRotor& rotor);
AxialRange cage_range(const EndCage& cage);

/// Whether both halves along z are mirror images, so that z > 0 is enough.
bool is_mirrored(const EndEffectInput& input);

/// Lines of a tensor grid through every radius and every end. The number of cells between two marks
/// does not depend on their distance, so that what is computed is continuous in every length.
struct EndGrid {
  std::vector<double> r;  // m
  std::vector<double> z;
  bool plane = false;  ///< one layer of 1 m, nothing changes along z
};
EndGrid end_grid(const EndEffectInput& input);
/// The long stack: per metre.
EndGrid plane_grid(const EndEffectInput& input);

}  // namespace lodegear
