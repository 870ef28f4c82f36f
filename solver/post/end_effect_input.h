// solver/post/end_effect_input.h — what the end effect depends on, as plain data.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "mesh/gear.h"
#include "mesh/shapes/shape.h"

namespace lodegear {

/// One harmonic of a rotor's remanence, order h p with h = 1, 3, 5 …, about the centre of a pole
/// with outward remanence at t = 0: B_r,r = radial cos(h p t), B_r,θ = tangential sin(h p t), T.
struct RemanenceHarmonic {
  int multiple = 1;  ///< h
  double radial = 0.0;
  double tangential = 0.0;
};

/// Sun or ring. Lengths in m; z runs along the axis, from the middle of the machine.
struct EndRotor {
  int pole_pairs = 1;
  RadialExtent magnets;
  std::vector<RemanenceHarmonic> remanence;
  double recoil_permeability = 1.05;  ///< relative
  std::optional<RadialExtent> iron;   ///< hub or back iron; taken as ideal
  double length = 0.0;                ///< of the magnets
  double iron_length = 0.0;
  double offset = 0.0;  ///< of the middle of magnets and iron
};

/// The modulator: pole pieces taken as ideal iron.
struct EndCage {
  int pole_pieces = 0;
  RadialExtent pieces;
  double cover = 0.5;  ///< steel's part of the pitch
  double length = 0.0;
  double offset = 0.0;
};

/// A gear with n = p_s + p_r, or a coupling (no cage) with equal pole pairs.
struct EndEffectInput {
  EndRotor sun;
  std::optional<EndCage> cage;
  EndRotor ring;
  bool simplified = false;  ///< bars, blocks, spokes, bridges: drawn here as sectors and arcs
};

/// Remanence and recoil permeability of a rotor's magnets.
struct MagnetStrength {
  double remanence = 1.0;             ///< T; the ratio of torques does not depend on it
  double recoil_permeability = 1.05;  ///< relative; common practice for NdFeB, no source
};

/// Nothing without sun or ring, and where their pole pairs do not work together: n = p_s + p_r, or
/// p_s = p_r without a modulator.
std::optional<EndEffectInput> end_effect_input(const Gear& gear, MagnetStrength sun = {},
                                               MagnetStrength ring = {});

}  // namespace lodegear
