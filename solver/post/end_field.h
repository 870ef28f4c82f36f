// solver/post/end_field.h — the field of one harmonic about the ends of a stack.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "solver/post/end_effect_input.h"
#include "solver/post/end_grid.h"

namespace lodegear {

/// A quantity that is quadratic in the magnets' strength, by whose magnets it comes from. With both
/// at load angle δ (electrical) it is sun + ring + 2 both cos(hδ).
struct BySource {
  double sun = 0.0;
  double both = 0.0;
  double ring = 0.0;
  double at(double cosine) const { return sun + ring + 2 * both * cosine; }
};

/// Harmonic h of the rotors' remanence and all that the pole pieces make of it.
struct EndField {
  BySource energy;      ///< ½ ∫ µ H² dV, J; on the plane grid J/m                (theory 9.4)
  BySource pull_inner;  ///< axial force through the inner (or only) gap on what lies inside it, N
  BySource pull_outer;  ///< the same through the outer gap, N
};

EndField end_field(const EndEffectInput& input, int multiple, const EndGrid& grid);

}  // namespace lodegear
