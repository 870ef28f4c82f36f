// solver/motion/slip_motion.h — the members' motion in time: swinging, slipping, locking in again.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <functional>
#include <optional>
#include <vector>

#include "solver/motion/gear_spring.h"

namespace lodegear {

/// What turns with one member. Same unit of torque as the spring's.
struct ShaftLine {
  double inertia = held_fast;                 ///< kg·m²; held_fast: keeps its starting speed
  double start_angle = 0.0;                   ///< rad
  double start_speed = 0.0;                   ///< rad/s
  double dry_friction = 0.0;                  ///< N·m, against the motion whatever the speed
  double viscous = 0.0;                       ///< N·m·s/rad
  std::function<double(double time)> torque;  ///< from outside, N·m, counter-clockwise; none = 0
};

struct MotionSetup {
  std::array<ShaftLine, 3> shafts;  ///< sun, modulator, ring
  double duration = 1.0;            ///< s
  int samples = 1000;               ///< of the result, evenly spaced
  double tolerance = 1e-7;          ///< of a step: load angle in rad, speeds in natural frequencies
  /// Speed below which dry friction fades out linearly, rad/s; 0 = a ten-thousandth of the natural
  /// angular frequency over the largest factor. A shaft that should stick then creeps that slowly.
  double creep_speed = 0.0;
  /// N·m·s a rad of load angle: what brakes the slide within the gear, as eddy currents; every
  /// member bears −factor · slide_damping · dδ/dt of it.
  double slide_damping = 0.0;
  bool until_locked = false;     ///< end with the first sample at which it is locked
  long most_steps = 20'000'000;  ///< of the integration, before it is given up
};

struct MotionSample {
  double time = 0.0;                             // s
  std::array<double, 3> angle{}, speed{};        // rad, rad/s: sun, modulator, ring
  std::array<double, 3> torque{};                // of the field on each member
  double load_angle = 0.0, sliding_speed = 0.0;  // δ and dδ/dt, rad and rad/s electrical
};

struct Motion {
  std::vector<MotionSample> samples;
  bool complete = false;   ///< false: too many steps; the samples end early
  int poles_slipped = 0;   ///< whole turns of δ, counted with sign
  bool locked = false;     ///< at the end: too little energy to pass a crest of U
  double last_slip = 0.0;  ///< s; time of the last pole slipped, 0 if none
  /// |dδ/dt|/2π over the last quarter [Hz], 0 if locked: how often the poles repel one another.
  double ratchet_frequency = 0.0;
};

/// Integrates J ω′ = −factor (τ(δ) + slide_damping δ′) + torque − friction of every member that is
/// free (theory 15.3). Ripple and the shafts' own softness are left out; without slide_damping eddy
/// currents, too: real gears lose more while they slip, so they lock in more easily than computed.
/// Needs at least one free member.
Motion motion(const GearSpring& spring, const MotionSetup& setup);

/// Whether a gear that starts with a member at `driven_speed` (held to it) and all else at rest
/// locks in within `setup.duration`. Bisection on this gives the pull-in speed:
/// the largest speed [rad/s] of `driven` at which the others, from rest, still fall into step, at
/// the worst of `starts` evenly spaced load angles. Needs speeds 0 … highest to bracket it; returns
/// `highest` if it locks in even there.
double pull_in_speed(const GearSpring& spring, MotionSetup setup, Member driven, double highest,
                     int starts = 8);

}  // namespace lodegear
