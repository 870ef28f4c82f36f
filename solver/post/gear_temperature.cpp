// solver/post/gear_temperature.cpp — how warm the parts of a concentric gear become.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/gear_temperature.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/input_error.h"
#include "materials/words.h"

namespace lodegear {

using Eigen::VectorXd;

namespace {

constexpr double stacked_sheets = 2.0;  // W/(m·K) through a stack of insulated sheets
constexpr double molten = 2000.0;       // °C; whatever comes here has run away

const ThermalNode& node_at(const GearNetwork& built, int i) {
  return built.network.nodes[static_cast<std::size_t>(i)];
}

std::vector<std::string> names_of(const GearNetwork& built) {
  std::vector<std::string> names;
  for (int part : built.parts) names.push_back(node_at(built, part).name);
  return names;
}

std::vector<HeatFlow> flows_of(const GearNetwork& built, const SteadyHeat& heat) {
  std::vector<HeatFlow> flows;
  for (int path : built.paths)
    flows.push_back({built.network.links[static_cast<std::size_t>(path)].name, heat.flows[path],
                     heat.conductances[path]});
  return flows;
}

template <class Result>
void find_margin(const GearNetwork& built, const VectorXd& t, Result& result) {
  for (const TemperatureLimit& limit : built.limits) {
    const double margin = limit.celsius - t[limit.node];
    if (result.margin && margin >= *result.margin) continue;
    result.margin = margin;
    result.nearest_limit = limit.reason;
  }
}

}  // namespace

double PartLosses::total() const {
  return shaft + sun_hub + sun_magnets + inner_wall + modulator + outer_wall + ring_magnets +
         ring_body + housing + end_caps + inner_gap_windage + outer_gap_windage + bearings;
}

PartLosses part_losses(const OperatingPoint& point) {
  PartLosses losses;
  const std::map<std::string, double PartLosses::*> places = {
      {"shaft", &PartLosses::shaft},
      {"sun hub", &PartLosses::sun_hub},
      {"sun magnets", &PartLosses::sun_magnets},
      {"inner wall", &PartLosses::inner_wall},
      {"modulator", &PartLosses::modulator},
      {"outer wall", &PartLosses::outer_wall},
      {"ring magnets", &PartLosses::ring_magnets},
      {"ring body", &PartLosses::ring_body},
      {"housing", &PartLosses::housing},
      {"end caps", &PartLosses::end_caps}};
  for (const MagneticLoss& loss : point.magnetic) {
    const auto place = places.find(loss.part);
    if (place == places.end())
      throw InputError("no part of a gear is called " + in_quotes(loss.part));
    losses.*(place->second) += loss.total();
  }
  for (const FrictionLoss& loss : point.friction) {
    const auto between = [&](TurnsWith a, TurnsWith b) {
      return (loss.sides.one == a && loss.sides.other == b) ||
             (loss.sides.one == b && loss.sides.other == a);
    };
    (between(TurnsWith::sun, TurnsWith::modulator)    ? losses.inner_gap_windage
     : between(TurnsWith::modulator, TurnsWith::ring) ? losses.outer_gap_windage
                                                      : losses.bearings) += loss.power;
  }
  return losses;
}

HeatMaterial heat_material(const OtherMaterial& material) {
  if (!material.specific_heat)
    throw InputError("the specific heat of " + material.name +
                     " is not known; temperatures need it");
  return {.name = material.name,
          .conductivity = material.thermal_conductivity,
          .axial_conductivity = 0.0,
          .density = material.density,
          .specific_heat = *material.specific_heat,
          .limit = material.long_term_temperature,
          .limit_reason = "long-term temperature of " + material.name};
}

HeatMaterial heat_material(const MagnetMaterial& magnet) {
  return {.name = magnet.name,
          .conductivity = magnet.thermal_conductivity,
          .axial_conductivity = 0.0,
          .density = magnet.density,
          .specific_heat = magnet.specific_heat,
          .limit = magnet.working_temperature,
          .limit_reason = "working temperature of " + magnet.name};
}

HeatMaterial heat_material(const Steel& steel) {
  return {.name = steel.name,
          .conductivity = steel.thermal_conductivity,
          .axial_conductivity = steel.thickness > 0 ? stacked_sheets : 0.0,
          .density = steel.density,
          .specific_heat = steel.specific_heat,
          .limit = std::nullopt,
          .limit_reason = {}};
}

double GearTemperatures::of(const std::string& name) const {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) throw std::invalid_argument("no part is called " + name);
  return steady[found - names.begin()];
}

GearTemperatures gear_temperatures(const GearThermal& gear, const std::vector<double>& times) {
  const GearNetwork built = gear_network(gear);
  const SteadyHeat heat = steady_heat(built.network);
  GearTemperatures result;
  result.names = names_of(built);
  result.steady = heat.temperatures(built.parts);
  result.flows = flows_of(built, heat);
  result.converged = heat.converged;
  for (std::size_t i = 0; i < built.network.nodes.size(); ++i)
    if (built.network.nodes[i].fixed)
      result.heat_out += heat_into(built.network, heat.flows, static_cast<int>(i));
    else
      result.heat_in += built.network.nodes[i].source;
  result.time_constants = FrozenNetwork(built.network, heat.temperatures).time_constants();
  const VectorXd cold = uniform_start(built.network, gear.ambient);
  result.heating = heating_curve(built.network, cold, times);
  for (VectorXd& t : result.heating.temperatures) t = VectorXd(t(built.parts));
  find_margin(built, heat.temperatures, result);
  if (result.margin && *result.margin < 0 && result.time_constants.size() > 0)
    result.first_limit =
        first_limit(built.network, cold, built.limits, 50 * result.time_constants[0]);
  return result;
}

GearTemperatures settled_temperatures(
    GearThermal gear, const std::function<PartLosses(const GearTemperatures&)>& losses) {
  GearTemperatures result = gear_temperatures(gear);
  for (int round = 0; round < 50 && result.steady.maxCoeff() < molten; ++round) {
    gear.losses = losses(result);
    const VectorXd before = result.steady;
    result = gear_temperatures(gear);
    if ((result.steady - before).cwiseAbs().maxCoeff() <= 0.01) return result;
  }
  result.converged = false;
  return result;
}

SpeedLimit highest_continuous_speed(const GearLosses& losses, const Drive& drive, double load,
                                    const GearThermal& thermal, double highest) {
  return highest_continuous_speed(
      [&](double speed) -> std::optional<double> {
        const auto point = operating_point(losses, drive, speed, load);
        if (!point) return std::nullopt;
        GearThermal gear = thermal;
        gear.speeds = point->speeds;
        gear.losses = part_losses(*point);
        const GearNetwork built = gear_network(gear);
        GearTemperatures result;
        find_margin(built, steady_heat(built.network).temperatures, result);
        return result.margin.value_or(1.0);  // no limit is known: never too hot
      },
      highest);
}

std::optional<LimitReached> safe_slipping_time(const GearThermal& running,
                                               const PartLosses& slipping,
                                               const MemberSpeeds& slipping_speeds,
                                               double longest) {
  const VectorXd start = steady_heat(gear_network(running).network).temperatures;
  GearThermal gear = running;
  gear.losses = slipping;
  gear.speeds = slipping_speeds;
  const GearNetwork built = gear_network(gear);
  return first_limit(built.network, start, built.limits, longest);
}

GearDuty duty_temperatures(const GearThermal& gear, const std::vector<GearInterval>& cycle) {
  const GearNetwork built = gear_network(gear);
  std::vector<HeatInterval> intervals;
  for (const GearInterval& interval : cycle) {
    GearThermal then = gear;
    then.losses = interval.losses;
    intervals.push_back({interval.duration, sources(gear_network(then).network)});
  }
  const PeriodicHeat heat = periodic_heat(built.network, intervals);
  GearDuty duty;
  duty.names = names_of(built);
  duty.coolest = heat.coolest(built.parts);
  duty.hottest = heat.hottest(built.parts);
  find_margin(built, heat.hottest, duty);
  return duty;
}

}  // namespace lodegear
