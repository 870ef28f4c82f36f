// cases/heat_of_case.h — a case over time: from cold, in a duty cycle, while it slips.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "cases/validation.h"
#include "solver/post/gear_temperature.h"

namespace lodegear {

/// From a minute to a day, closer at the start, with the end of the bench test among them, s.
std::vector<double> heating_times(double bench_time);

/// The hottest and coolest moments of [[duty]]; none without it. Throws InputError if the gear
/// cannot carry one of its loads in step.
std::optional<GearDuty> duty_of(const Case& c, const GearLosses& losses, const Drive& drive,
                                const GearThermal& running);

/// What the gear loses while the output stands and the input turns on, and how long it bears that.
/// Sun and modulator, or modulator and ring, then pass one another at the input's speed; the
/// magnetic loss is taken to be that in step at the same relative speed and nearly full load, an
/// order of magnitude.
SlippingHeat slipping_heat(const GearLosses& losses, const Drive& drive, double input_speed,
                           const GearThermal& running);

}  // namespace lodegear
