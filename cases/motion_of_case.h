// cases/motion_of_case.h — a case as a spring between two inertias.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "cases/validation.h"
#include "solver/motion/gear_spring.h"

namespace lodegear {

/// From the slip curve, scaled to what is expected on the bench. None without a whole period.
std::optional<GearSpring> bench_spring(const Validation& validation);

/// kg·m² of what turns with this member, input or output: as given, or its magnets and steel.
double inertia_of(const Validation& validation, Member member);

std::optional<MotionFigures> motion_figures(const Validation& validation);

/// What slipping takes from the outside, for its motion.
struct SlipFriction {
  double rotor_loss =
      0.0;  ///< W in sun and ring while the output stands and the input keeps its speed
  double output_drag = 0.0;  ///< N·m of bearings and seals on the output's shaft
};

/// The overload of [overload]. None where the load is not carried in step or the input stands.
/// Throws InputError for an overload that lasts too long to be followed.
std::optional<SlipInTime> slip_in_time(const Validation& validation, const SlipFriction& friction);

}  // namespace lodegear
