// solver/motion/overload.h — an overload comes on, the gear slips, the load falls back: does it
// lock in again? SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "solver/motion/slip_motion.h"

namespace lodegear {

/// The gear runs in step under `load`; at time 0 the output is asked for `overload`, and after
/// `duration` for `load` again. Torques on the output are magnitudes [N·m].
struct Overload {
  Member input = Member::sun, output = Member::modulator;
  double input_speed = 0.0;  ///< rad/s in step, not 0
  double input_inertia =
      held_fast;                ///< kg·m²; held_fast: the drive keeps its speed, else its torque
  double output_inertia = 1.0;  ///< kg·m²
  double load = 0.0, overload = 0.0;
  /// true: the load only resists, and holds a standing output; false: it pulls whichever way the
  /// output turns, as a weight does.
  bool brakes = true;
  double drag = 0.0;           ///< N·m of bearings and seals on the output's shaft, at all times
  double slide_damping = 0.0;  ///< as in MotionSetup
  double duration = 0.0;       ///< s; 0 = until the output stands and ten poles more
};

/// Largest and smallest torque of the gear on a member, N·m, positive in the direction in which it
/// acts in step: forward on the output, backward on the input.
struct TorqueRange {
  double most = 0.0, least = 0.0;
};

struct OverloadMotion {
  std::vector<MotionSample> samples;  ///< from the overload on; evenly spaced in each of two parts
  double duration = 0.0;              ///< s of the overload
  bool slips = false;                 ///< at least one pole while the overload lasts
  /// Poles passed a second [Hz], and mean torque of the gear on the output [N·m, positive = still
  /// drives it] over the last whole poles of the overload; none if fewer than two passed.
  std::optional<double> ratchet_frequency, mean_torque;
  TorqueRange on_output, on_input;  ///< while it slips; of a gear that holds, all the time
  int poles_slipped = 0;            ///< in all
  /// s after the end of the overload from which on no pole can pass any more; none if it still
  /// slips when it is no longer followed.
  std::optional<double> locks_after;
  double followed = 0.0;  ///< s after the end of the overload
  bool complete = false;  ///< false: too many steps, what follows is not known
};

/// How often a pole passes while the output stands and the input keeps its speed [Hz].
double standing_ratchet_frequency(const GearSpring& spring, Member input, double input_speed);

/// Swings of the whole well take this long [s]: 2π/√(κ (U_max − U_min)/2), 2π/ω_0 of a sine.
double swing_period(const GearSpring& spring, double kappa);

/// Longest overload that is followed, s: 3000 poles or swings, whichever pass faster.
double longest_overload(const GearSpring& spring, const Overload& overload);

/// None if the gear does not carry its load in step to begin with. Integrated as motion() does.
std::optional<OverloadMotion> overload_motion(const GearSpring& spring, const Overload& overload);

/// The largest speed of the input [rad/s, magnitude], kept by the drive, at which an output at rest
/// under `load` locks in whatever the load angle; 0 if at none, `highest` if still there.
double pull_in_speed(const GearSpring& spring, const Overload& overload, double load,
                     double highest);

}  // namespace lodegear
