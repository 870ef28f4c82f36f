// solver/post/solid_steel.h — eddy currents in solid steel, between a bound and a rough estimate.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "solver/post/eddy_loss.h"
#include "solver/post/iron_loss.h"

namespace lodegear {

/// Solid pole pieces, wedges, hubs or back irons of one steel.
struct SolidSteel {
  Conductor conductor;  ///< regions, resistivity, row_length; mu_r is not read
  Steel steel;
};

/// Means over the cycle, W per metre of active length.
struct SolidSteelLoss {
  IronLoss hysteresis;  ///< hysteresis alone
  /// Eddy currents in the field at rest, as if the steel were thinner than its skin depth. Where it
  /// is `thick` this is an upper bound, but for saturation (at most 4/π times as much).
  EddyLoss resistance_limited;
  double skin_depth = 0.0;  ///< m, at the loss-weighted frequency and the chord permeability
  double size = 0.0;        ///< m, the larger side of a body; of a ring how deep flux reaches
  bool thick = false;       ///< size > 2 skin depths: a warning is due
  /// The same with the reaction of a plate that carries the same flux; orders of magnitude.
  double linear_plate = 0.0;               ///< constant permeability (theory 8.9)
  std::optional<double> saturating_plate;  ///< none if the steel never saturates (theory 8.10)
};

SolidSteelLoss solid_steel_loss(const MemberHistory& history, const SolidSteel& solid,
                                double phase_speed);

/// Loss of a plate of `thickness` that carries a given sinusoidal flux along itself over that of
/// the same plate with evenly spread flux:
///
///   F = (3/x) (sinh x − sin x)/(cosh x − cos x),   x = thickness/δ (theory 8.9)
///
/// Source: Lammeraner, Štafl, Eddy Currents (1966) (from memory).
double linear_plate_factor(double thickness, double skin_depth);

/// The same where the flux density in the skin is ±B_s: (4/π) b/B_s for a mean amplitude b ≤ B_s.
/// After Agarwal, AIEE Trans. 78 (1959) 169 (from memory), for given flux.           (theory 8.10)
double saturating_plate_factor(double peak_b, double saturation);

}  // namespace lodegear
