// mesh/magnet_patterns.h — the direction of every magnet of a rotor.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "mesh/gear.h"

namespace lodegear {

/// How the remanence of one magnet is directed, in the member's own frame.
struct Magnetisation {
  enum class Law {
    uniform,  ///< along `angle`
    radial,   ///< along the local radius, times `strength`
    turning,  ///< at angle turns·t at a point of polar angle t (continuous Halbach), plus `angle`
  };
  Law law = Law::uniform;
  double angle = 0.0;     ///< rad
  double turns = 0.0;     ///< 1 ∓ p for law turning
  double strength = 1.0;  ///< of the material's remanence; 0 = missing: then there is air

  bool operator==(const Magnetisation&) const = default;
  /// Unit direction times strength at the point x (m).
  Eigen::Vector2d at(const Eigen::Vector2d& x) const;
};

/// Number of magnets around the rotor (one axial row). Continuous Halbach counts one per pole.
int n_magnets(const MagnetRotor& rotor);
/// Polar angle of the centre of magnet `index` in the member's frame, rad.
double magnet_centre_angle(const MagnetRotor& rotor, int index);
/// Direction of magnet `index`, odd magnets applied.
Magnetisation magnetisation(const MagnetRotor& rotor, int index);
/// Body angle of block `index` relative to the local radial, rad (0 for other shapes).
double body_angle(const MagnetRotor& rotor, int index);
/// True if the direction of magnet `index` lies along no axis of the body a stock magnet is sold
/// with: radial for arcs is a stock direction for one-segment poles only.
bool is_special_order(const MagnetRotor& rotor, int index);

}  // namespace lodegear
