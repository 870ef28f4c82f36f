// cases/heat_of_case.cpp — a case over time: from cold, in a duty cycle, while it slips.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/heat_of_case.h"

#include <algorithm>
#include <cmath>

#include "cases/figures.h"
#include "materials/input_error.h"

namespace lodegear {

std::vector<double> heating_times(double bench_time) {
  std::vector<double> times = {0.0, bench_time};
  for (double t = 60.0; t < 86401.0; t *= 1.5) times.push_back(t);
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

std::optional<GearDuty> duty_of(const Case& c, const GearLosses& losses, const Drive& drive,
                                const GearThermal& running) {
  const std::vector<DutyPart>& duty = c.service.use.duty;
  if (duty.empty()) return std::nullopt;
  std::vector<GearInterval> cycle;
  for (std::size_t i = 0; i < duty.size(); ++i) {
    const double speed = duty[i].input_speed.value_or(c.running->input_speed);
    GearInterval interval{duty[i].duration, {}};
    if (speed != 0.0) {
      const auto point = operating_point(losses, drive, speed, duty[i].load);
      if (!point)
        throw InputError({{{},
                           "duty[" + std::to_string(i + 1) + "].load_Nm",
                           "is " + torque_text(duty[i].load) +
                               ", which the gear cannot carry in step; it must be less."}});
      interval.losses = part_losses(*point);
    }
    cycle.push_back(interval);
  }
  return duty_temperatures(running, cycle);
}

SlippingHeat slipping_heat(const GearLosses& losses, const Drive& drive, double input_speed,
                           const GearThermal& running) {
  MemberSpeeds speeds;
  (drive.input == Member::sun         ? speeds.sun
   : drive.input == Member::modulator ? speeds.modulator
                                      : speeds.ring) = input_speed;
  // p_s (ω_s − ω_m) is what the field does seen from the modulator; of the ring the same with p_r.
  const double by_ring = std::abs(speeds.ring - speeds.modulator) * losses.counts.ring;
  const double by_sun = std::abs(speeds.sun - speeds.modulator) * losses.counts.sun;
  OperatingPoint point;
  point.magnetic = magnetic_losses(losses, losses.loads.back().load_angle,
                                   std::max(by_sun, by_ring) / losses.counts.sun);
  point.friction = friction_losses(losses.friction, speeds);
  const PartLosses parts = part_losses(point);
  // What sees its own order of the field slide by. Cans and pole pieces brake the input as they do
  // in step, not the slide.
  double in_rotors = 0.0;
  for (const MagneticLoss& loss : point.magnetic)
    for (const char* part : {"sun magnets", "sun hub", "ring magnets", "ring body"})
      if (loss.part == part) in_rotors += loss.total();
  return {parts.total(), in_rotors, safe_slipping_time(running, parts, speeds)};
}

}  // namespace lodegear
