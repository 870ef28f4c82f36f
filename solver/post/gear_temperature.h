// solver/post/gear_temperature.h — how warm the parts of a concentric gear become.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "materials/magnet.h"
#include "materials/other.h"
#include "materials/steel.h"
#include "solver/motion/drive.h"
#include "solver/post/air.h"
#include "solver/post/efficiency.h"
#include "solver/post/thermal_network.h"

namespace lodegear {

// ---- what is usual where nothing was measured ---------------------------------------------------

/// m²K/W of 0.1 mm glue with 0.2 W/(m·K) (computed; glue lines of 0.05 to 0.3 mm occur).
inline constexpr double glued_joint = 5e-4;
/// m²K/W of a dry contact of printed plastic, 1e-3 to 3e-3 (from memory).
inline constexpr double printed_joint = 2e-3;
/// m²K/W of pressed metal on metal (from memory, ±a factor of two).
inline constexpr double pressed_joint = 1e-4;
/// K/W ring to ring of a small deep-groove bearing, 1 to 3 (engineering judgement, no source).
inline constexpr double bearing_resistance = 2.0;
/// W/(m²K) on faces inside a closed housing, turning parts near (engineering judgement, no source).
inline constexpr double enclosed_film = 8.0;
/// W/(m²K) in a gentle fan's wind of 1 to 3 m/s; 15 to 40 occur (from memory).
inline constexpr double gentle_fan = 25.0;
/// Emissivity of paint and plastic 0.9, anodised aluminium 0.8, machined steel 0.25, bare aluminium
/// 0.08 (from memory).
inline constexpr double painted = 0.9, anodised = 0.8, machined_steel = 0.25, bare_aluminium = 0.08;

// ---- the gear as heat sees it -------------------------------------------------------------------

/// A solid and how warm it may become.
struct HeatMaterial {
  std::string name;
  double conductivity = 0.0;        ///< W/(m·K), radial
  double axial_conductivity = 0.0;  ///< W/(m·K); 0 = the same (a stack of sheets: 1 to 4)
  double density = 0.0;             ///< kg/m³
  double specific_heat = 0.0;       ///< J/(kg·K)
  std::optional<double> limit{};    ///< °C
  std::string limit_reason{};
};
/// Limit: long_term_temperature. Throws InputError if its specific heat is not known.
HeatMaterial heat_material(const OtherMaterial& material);
/// Limit: working_temperature.
HeatMaterial heat_material(const MagnetMaterial& magnet);
/// Sheet steel conducts 2 W/(m·K) along the axis of its stack (1 to 4, from memory); no limit.
HeatMaterial heat_material(const Steel& steel);

/// A hollow cylinder about the axis.
struct ThermalPart {
  double inner_radius = 0.0, outer_radius = 0.0;  ///< m; inner 0 = solid
  HeatMaterial material;
  double length = 0.0;                   ///< m; 0 = the stack's
  double share = 1.0;                    ///< of the circle that `material` fills …
  std::optional<HeatMaterial> filler{};  ///< … and what fills the rest, heat passing side by side:
                                         ///< printed webs between pole pieces; none = nothing
  /// m²K/W towards the next part inside, where the radii meet.
  double joint_inside = glued_joint;
};

/// Two covers at the ends of the housing.
struct EndCaps {
  double thickness = 0.0, radius = 0.0;  ///< m
  HeatMaterial material;
  double joint = pressed_joint;  ///< m²K/W towards the housing, over the caps' rims
};

/// Heat of each part [W]. Half of a gap's windage warms either face, half of the bearings' friction
/// the shaft, half their seat.
struct PartLosses {
  double shaft = 0.0, sun_hub = 0.0, sun_magnets = 0.0, inner_wall = 0.0, modulator = 0.0;
  double outer_wall = 0.0, ring_magnets = 0.0, ring_body = 0.0, housing = 0.0, end_caps = 0.0;
  double inner_gap_windage = 0.0, outer_gap_windage = 0.0, bearings = 0.0;
  double total() const;
};

/// The heat of an operating point by part: magnetic losses by their part names, which must be those
/// of node_names (else InputError); friction between sun and modulator, or modulator and ring, half
/// to either; all other friction to the bearings.
PartLosses part_losses(const OperatingPoint& point);

/// Heat's way between two parts that the builder does not know of: a carrier's end plate, a foot.
struct ExtraPath {
  std::string from, to;      ///< nodes, see node_names
  double conductance = 0.0;  ///< W/K; along a bar k A/l
};

struct GearThermal {
  double stack_length = 0.0;  ///< m
  std::optional<ThermalPart> shaft, sun_hub;
  ThermalPart sun_magnets, modulator, ring_magnets;
  /// Standing walls in the gaps, e.g. of a sealed drive.
  std::optional<ThermalPart> inner_wall, outer_wall;
  std::optional<ThermalPart> ring_body;  ///< back iron or the ring's carrier
  std::optional<ThermalPart> housing;    ///< stands; pressed on, or around a gap
  std::optional<EndCaps> end_caps;       ///< with them the inside is closed

  double shaft_reach = 0.0;     ///< m from the stack's end to a bearing
  double shaft_overhang = 0.0;  ///< m of shaft in the open at each end that has one
  int overhangs = 1;
  int bearings = 2;  ///< between shaft and seat
  double resistance_of_bearing = bearing_resistance;
  std::string bearing_seat;  ///< a node; empty = end caps, else housing, else outermost part

  MemberSpeeds speeds;
  double ambient = 20.0;        ///< °C
  std::optional<double> fan;    ///< W/(m²K) on every face in the open; none = still air
  double emissivity = painted;  ///< of every face in the open
  double inside_film = enclosed_film;
  Fluid gap_fluid = air_at(40.0);

  PartLosses losses;
  std::vector<ExtraPath> extra_paths;
  /// Limits besides those of the materials, e.g. of a glue: node's name, °C, reason.
  struct ExtraLimit {
    std::string node;
    double celsius = 0.0;
    std::string reason;
  };
  std::vector<ExtraLimit> extra_limits;

  /// Measured values in place of computed ones: W/K by name of the link ("sun magnets to
  /// modulator"), °C by name of the node. A name that does not exist is an InputError that lists
  /// those that do.
  std::map<std::string, double> measured_conductances, measured_temperatures;
};

/// The network of theory section 13 with its limits.
struct GearNetwork {
  ThermalNetwork network;
  std::vector<int> parts;  ///< nodes of mean temperatures, air and ambient, surfaces left out
  std::vector<int> paths;  ///< links between parts, the pieces of a shell's own network left out
  std::vector<TemperatureLimit> limits;
};
/// Throws InputError where parts overlap or miss their data.
GearNetwork gear_network(const GearThermal& gear);

/// Names of the parts as they stand in the results: "shaft", "sun hub", "sun magnets", "inner
/// wall", "modulator", "outer wall", "ring magnets", "ring body", "housing", "end caps", "inside
/// air", "ambient"; those the gear has.
std::vector<std::string> node_names(const GearThermal& gear);

// ---- results ------------------------------------------------------------------------------------

struct HeatFlow {
  std::string name;          ///< of the link, as for measured_conductances
  double watts = 0.0;        ///< in the direction of the name
  double conductance = 0.0;  ///< W/K
};

struct GearTemperatures {
  std::vector<std::string> names;        ///< of the parts
  Eigen::VectorXd steady;                ///< °C, by part
  std::vector<HeatFlow> flows;           ///< between parts
  double heat_in = 0.0, heat_out = 0.0;  ///< W; equal unless a temperature is prescribed inside
  Eigen::VectorXd time_constants;        ///< s, the slowest first, films as in the steady state
  HeatingCurve heating;                  ///< from ambient, by part, at the times asked for
  /// Limit passed first on the way from ambient, with time; none if not even the steady state
  /// passes one.
  std::optional<LimitReached> first_limit;
  /// Least distance to a limit in the steady state [K], negative = too hot; none without limits.
  std::optional<double> margin;
  std::string nearest_limit;  ///< "ring body, inner face: long-term temperature of PETG"
  bool converged = false;

  double of(const std::string& name) const;  ///< steady °C of one part; throws if there is none
};

/// Steady state and heating from ambient temperature at `times` [s, ascending].
GearTemperatures gear_temperatures(const GearThermal& gear, const std::vector<double>& times = {});

/// The same with losses that follow the temperatures (resistance rises, remanence falls), settled
/// by repeating until no part moves by more than 0.01 K; `converged` false after 50 rounds: heat
/// runs away or the rounds swing.
GearTemperatures settled_temperatures(
    GearThermal gear, const std::function<PartLosses(const GearTemperatures&)>& losses);

/// Highest input speed [rad/s, up to `highest`] at which the gear may carry `load` [N·m] on its
/// output for ever, with speeds and losses of `thermal` replaced by those of each operating point.
/// Losses keep the temperature they were solved at.
SpeedLimit highest_continuous_speed(const GearLosses& losses, const Drive& drive, double load,
                                    const GearThermal& thermal, double highest);

/// How long the gear may slip: time until the first limit is passed, starting from the steady state
/// of `running`, with the losses and speeds while slipping. None: not within `longest` seconds.
std::optional<LimitReached> safe_slipping_time(const GearThermal& running,
                                               const PartLosses& slipping,
                                               const MemberSpeeds& slipping_speeds,
                                               double longest = 86400.0);

/// Periodic state of a duty cycle, each interval with its own losses; speeds, and with them the gap
/// films, as in `gear`. By part.
struct GearInterval {
  double duration = 0.0;  ///< s
  PartLosses losses;
};
struct GearDuty {
  std::vector<std::string> names;
  Eigen::VectorXd coolest, hottest;  ///< °C
  std::optional<double> margin;      ///< K, as in GearTemperatures, of the hottest moments
  std::string nearest_limit;
};
GearDuty duty_temperatures(const GearThermal& gear, const std::vector<GearInterval>& cycle);

}  // namespace lodegear
