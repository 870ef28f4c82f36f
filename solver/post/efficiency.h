// solver/post/efficiency.h — power balance, efficiency maps, drag and limits of a gear in step.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "solver/motion/drive.h"
#include "solver/post/friction.h"

namespace lodegear {

/// Loss of one part by how it grows with frequency [W].                            (theory 12.2)
struct MagneticLoss {
  std::string part;         ///< free name, e.g. "sun magnets"
  double hysteresis = 0.0;  ///< ∝ f
  double eddy = 0.0;     ///< ∝ f²: classical in sheets, in magnets and carriers while they are
                         ///< limited by resistance (thin against the skin depth)
  double surface = 0.0;  ///< ∝ f^1.5: excess loss of sheets, solid steel with a thin skin
  double total() const { return hysteresis + eddy + surface; }
};

/// The same losses at `ratio` times the frequency.
MagneticLoss at_frequency(const MagneticLoss& loss, double ratio);

/// The field solved at one load angle, in step.
struct SolvedLoad {
  double load_angle = 0.0;            ///< δ, electrical rad, 0 … π/2
  double torque_per_pole_pair = 0.0;  ///< mean |T_s|/p_s = |T_m|/n = |T_r|/p_r [N·m], whole stack
  std::vector<MagneticLoss> losses;   ///< the same parts in the same order at every load
};

/// All that is lost in a gear, ready for any drive, speed and load.
struct GearLosses {
  PoleCounts counts;
  /// |ω_sun − ω_modulator| [rad/s] for which `loads` hold. The magnetic losses depend on nothing
  /// else of the motion, whichever member is held.                                 (theory 12.1)
  double relative_speed = 0.0;
  /// Ascending in δ and in torque, the first at δ = 0. Two, none and nearly full load, are enough
  /// for a gear of constant permeability; three or four where steel saturates. With one row only
  /// no load can be carried, not even friction on the output's shaft.
  std::vector<SolvedLoad> loads;
  std::vector<FrictionPart> friction;
};

/// Throws std::invalid_argument where GearLosses breaks what its fields promise.
void check(const GearLosses& gear);

/// A gear at work. Powers in W, torques and speeds signed, counter-clockwise positive.
struct OperatingPoint {
  MemberSpeeds speeds;
  double load_angle = 0.0;     ///< rad, what the output and the friction on its shaft ask for
  double input_torque = 0.0;   ///< from outside on the input
  double output_torque = 0.0;  ///< from the load on the output, against its motion
  double ground_torque = 0.0;  ///< on held member, housing and stand together: closes the sum to 0
  double input_power = 0.0, output_power = 0.0;
  double magnetic_loss = 0.0, friction_loss = 0.0;
  double efficiency = 0.0;  ///< output_power/input_power
  std::vector<MagneticLoss> magnetic;
  std::vector<FrictionLoss> friction;
};

/// Input at `input_speed` [rad/s, not 0], a load torque of magnitude `load` [N·m ≥ 0] on the
/// output. Input power = output power + losses, exactly: (theory 12.3)
///   P_in = |load ω_out| + P_magnetic(|ω_s − ω_m|, δ) + P_friction(ω).
/// None: the load, with the friction on the output's shaft, needs more torque than the last solved
/// load has; nothing is guessed beyond it. Between solved loads torque is linear in sin δ and loss
/// linear in cos δ (exact for constant permeability and fundamental waves).        (theory 12.4)
std::optional<OperatingPoint> operating_point(const GearLosses& gear, const Drive& drive,
                                              double input_speed, double load);

/// Losses at load angle δ and a relative speed, part by part.
std::vector<MagneticLoss> magnetic_losses(const GearLosses& gear, double load_angle,
                                          double relative_speed);

/// Speeds across, loads down.
struct EfficiencyMap {
  std::vector<double> input_speeds;  ///< rad/s
  std::vector<double> loads;         ///< N·m on the output
  /// [load][speed]; none where the gear would slip or was not solved.
  std::vector<std::vector<std::optional<OperatingPoint>>> points;
};
EfficiencyMap efficiency_map(const GearLosses& gear, const Drive& drive,
                             std::vector<double> input_speeds, std::vector<double> loads);

/// What the input must give with nothing on the output [N·m], by cause.            (theory 12.5)
struct NoLoadDrag {
  double hysteresis = 0.0;  ///< the same at any speed
  double eddy = 0.0;        ///< ∝ speed
  double surface = 0.0;     ///< ∝ √speed
  double friction = 0.0;
  double total() const { return hysteresis + eddy + surface + friction; }
};
/// `input_speed` in rad/s, not 0. None if friction on the output alone makes the gear slip.
std::optional<NoLoadDrag> no_load_drag(const GearLosses& gear, const Drive& drive,
                                       double input_speed);

/// Part of a duty cycle; input_speed 0 is rest.
struct DutyInterval {
  double duration = 0.0;     ///< s
  double input_speed = 0.0;  ///< rad/s
  double load = 0.0;         ///< N·m on the output
};

/// Means over a cycle that repeats.
struct DutyMean {
  double duration = 0.0;
  double input_power = 0.0, output_power = 0.0, loss = 0.0;  ///< W, over time
  double efficiency = 0.0;                                   ///< energy out over energy in
  double largest_loss = 0.0;                                 ///< W, of the worst interval
  std::vector<MagneticLoss> magnetic;                        ///< mean of each part
  std::vector<std::optional<OperatingPoint>> points;         ///< none at rest
};
/// None if the gear cannot carry one of the intervals. Throws for durations ≤ 0.
std::optional<DutyMean> duty_mean(const GearLosses& gear, const Drive& drive,
                                  const std::vector<DutyInterval>& cycle);

/// The highest speed that is good for ever, or that it is not the speed that limits.
struct SpeedLimit {
  double input_speed = 0.0;  ///< rad/s; 0 = too hot at any speed
  bool reached = false;      ///< false: still cool enough at the highest speed that was tried
};

/// `margin(input_speed)`: kelvins between the part nearest to its limit and that limit in the
/// steady state, negative = too hot; none = the gear cannot run there, which ends the range. Steps
/// upwards in `steps` equal steps to `highest` and narrows the first change of sign by bisection to
/// 1e-6 of it, so a film law with a step does no harm.
SpeedLimit highest_continuous_speed(
    const std::function<std::optional<double>(double input_speed)>& margin, double highest,
    int steps = 60);

}  // namespace lodegear
