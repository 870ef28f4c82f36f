// cases/choosing/design.h — what a drawn gear holds, weighs and costs, computed quickly.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>

#include "cases/case.h"
#include "cases/choosing/pole_sets.h"

namespace lodegear {

/// All on the output and of the whole stack, magnets at the temperature of the case.
struct DesignFigures {
  double plane_torque = 0.0;                           ///< slip torque of the plane model, N·m
  double ends = 1.0, ends_low = 1.0, ends_high = 1.0;  ///< what the ends of the stack leave of it
  double volume = 0.0;                          ///< of the cylinder around magnets and steel, m³
  double magnet_mass = 0.0, active_mass = 0.0;  ///< kg; with steel
  double cogging_below = 0.0;  ///< upper bound of the cogging, peak to peak, part of slip torque
  double side_pull = 0.0;      ///< N near slip, on sun or ring, whichever is more
  double length = 0.0;         ///< m, of the stack

  /// What is expected on the bench, N·m.
  double torque() const { return plane_torque * ends; }
  /// Length of a stack that would hold `wished` N·m, m, from the ratio of theory 9 with
  /// 1/(1 + d/L).
  double length_for(double wished) const;
};

/// The torque differs from that of a fine mesh by this part at most: seen on fourteen gears, the
/// worst 1.5 % too low.
inline constexpr double design_error = 0.03;

/// Three positions about the peak, or more if it lies aside, on the lowest rung of the ladder and
/// to 1e-4 of the load; some tenths of a second. None if a position has no solution. `c` must have
/// been read from a file of a gear with all three members.
std::optional<DesignFigures> design_figures(const Case& c, const PoleSet& set);

}  // namespace lodegear
