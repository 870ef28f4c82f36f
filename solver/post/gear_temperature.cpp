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
  for (std::size_t i = 0; i < built.network.links.size(); ++i) {
    const auto j = static_cast<Eigen::Index>(i);
    flows.push_back({built.network.links[i].name, heat.flows[j], heat.conductances[j]});
  }
  return flows;
}

void find_margin(const GearNetwork& built, const VectorXd& t, GearTemperatures& result) {
  for (const TemperatureLimit& limit : built.limits) {
    const double margin = limit.celsius - t[limit.node];
    if (result.margin && margin >= *result.margin) continue;
    result.margin = margin;
    result.nearest_limit = node_at(built, limit.node).name + ": " + limit.reason;
  }
}

// Sources of the network as a vector.
VectorXd sources_of(const ThermalNetwork& network) {
  VectorXd p(static_cast<Eigen::Index>(network.nodes.size()));
  for (std::size_t i = 0; i < network.nodes.size(); ++i)
    p[static_cast<Eigen::Index>(i)] = network.nodes[i].source;
  return p;
}

}  // namespace

double PartLosses::total() const {
  return shaft + sun_hub + sun_magnets + inner_wall + modulator + outer_wall + ring_magnets +
         ring_body + housing + end_caps + inner_gap_windage + outer_gap_windage + bearings;
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
    intervals.push_back({interval.duration, sources_of(gear_network(then).network)});
  }
  const PeriodicHeat heat = periodic_heat(built.network, intervals);
  return {names_of(built), heat.coolest(built.parts), heat.hottest(built.parts)};
}

}  // namespace lodegear
