// cases/service.h — how a gear is built and used, and what is asked of it: for `validate`.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "materials/other.h"
#include "materials/table_reader.h"
#include "mesh/gear.h"
#include "solver/post/friction.h"

namespace lodegear {

// ---- the keys, and what they fill ---------------------------------------------------------------
//
// [use]
//   ambient_C              → ambient, −50 to 150. Default 20
//   load_Nm                → load: torque on the output. Default: 0.6 of the slip torque that is
//                            expected on the bench
//   fan                    → fan: true = a gentle fan blows on the gear. Default false
//   bench_minutes          → bench_time: how long a test runs, from cold. Default 10
//
// [[duty]]                 → duty: one entry a part of a cycle that repeats for ever. Default: none
//   minutes
//   load_Nm                on the output
//   input_speed_rpm        0 = rest. Default: that of [running]
//
// [[measured]]             → measured: a figure of your own in place of a computed one. Default:
// none
//   part                   "sun magnets", "modulator", "housing" … with
//   temperature_C          how warm it is for ever; or
//   path                   "sun magnets to modulator" … as `validate` lists them, with
//   conductance_W_per_K
//
// [overload]               what is asked of the output to see the gear slip, and then no more
//   torque_Nm              → torque, in place of the load. Default: 1.2 of the slip torque that is
//                            expected on the bench
//   seconds                → duration. Default: until the output stands and ten poles more
//   load_is                → brakes: "brake" | "weight": one that only resists, or one that turns
//                            a slipping output back. Default "brake"
//   drive_keeps            → keeps_speed: "speed" | "torque" of the load in step. Default "speed"
//   damping_percent        → damping of the slide, of the critical one without load. Default: what
//                            magnets, hub and back iron lose, as if all of it braked the slide
//
// [build]
//   sun_carrier            → carriers: a material of the catalogue or of [materials] ("other").
//   modulator_carrier        Defaults "PETG"
//   ring_carrier
//   pole_pieces_held       → held_at_both_ends: "both ends" | "one end". Default "both ends"
//   pole_pieces_bonded     → bonded: true = sheets of a pole piece are glued into one bar. Default
//                            true; loose sheets carry nothing, then the rod alone does
//   rod_diameter_mm        → rod_diameter, of a stainless rod in every pole piece. Default: none
//   sheets_stacked         → sheets_stacked, of laminated pole pieces: "along the axis" |
//                            "along the circle" | "along the radius". Default "along the axis"
//   cutting_factor         → cutting_factor: how many times as much cut sheets lose, 1 to 5.
//                            Default 1.5
//   shaft_diameter_mm      → shaft_diameter. Default: none is drawn
//   bearing_play_mm        → tolerances; each eats into the clearance of both gaps. Default 0.02
//   run_out_mm               of turned parts. Default 0.03
//   roundness_mm             of printed carriers. Default 0.15
//   magnet_tolerance_mm      Default 0.05
//   glue_line_mm             Default 0.05
//   input_inertia_kg_m2     → inertia of all that turns with the input shaft. Default: the member's
//   output_inertia_kg_m2      own; likewise
//
// [[bearing]]              → bearings: one entry for equal ones
//   turns                  "sun" | "modulator" | "ring" | "housing": what turns in it
//   sits_in                the same: what it sits in. Default "housing"
//   count                  Default 2
//   bore_mm
//   load_N                 of each. Default 10
//   friction               Default 0.0015
//   seal_drag_mNm          of each; 0 = open or shielded. Default 10: two rubbing seals
//
// [require]                what validate judges; what is not given is not judged, but limits of
//                          materials and 'does it rub' always are
//   slip_torque_Nm         → slip_torque, on the output, as expected on the bench when warm
//   safety_factor          → safety_factor: slip torque over load. Default 1.5
//   cogging_percent        → cogging, peak to peak on the output, of slip torque
//   efficiency_percent     → efficiency at load and speed
//   magnet_margin_percent  → magnet_margin: distance from the knee, through a slip. Default 10
//   clearance_mm           → clearance that is left in the worst case. Default 0.2
//   magnet_temperature_C   → magnet_temperature, besides the grade's own
//   active_mass_kg         → active_mass: magnets and steel at most
//   outer_diameter_mm      → outer_diameter of magnets and steel at most

/// What each gap's clearance may lose, one by one.
struct Tolerances {
  double bearing_play = 0.02e-3, run_out = 0.03e-3, roundness = 0.15e-3;  // m
  double magnet = 0.05e-3, glue_line = 0.05e-3;                           // m
};

/// A part of a duty cycle.
struct DutyPart {
  double duration = 0.0;              ///< s
  double load = 0.0;                  ///< N·m on the output
  std::optional<double> input_speed;  ///< rad/s; none: that of [running]
};

/// What was measured on the gear or one like it.
struct Measured {
  std::string name;  ///< of a part or of a path
  double value = 0.0;
  bool is_path = false;  ///< value in W/K, else °C
};

struct Use {
  double ambient = 20.0;       ///< °C
  std::optional<double> load;  ///< N·m on the output
  bool fan = false;
  double bench_time = 600.0;  ///< s
  std::vector<DutyPart> duty;
};

/// What is asked of the output to see the gear slip.
struct AskedOverload {
  std::optional<double> torque;    ///< N·m
  std::optional<double> duration;  ///< s
  bool brakes = true, keeps_speed = true;
  std::optional<double> damping;  ///< ratio to the critical one
};

struct Build {
  std::array<std::string, 3> carrier_names = {"PETG", "PETG", "PETG"};  ///< by member
  std::array<OtherMaterial, 3> carriers;
  bool held_at_both_ends = true, bonded = true;
  double rod_diameter = 0.0;  ///< m, 0 = none
  SheetsStacked sheets_stacked = SheetsStacked::along_axis;
  double cutting_factor = 1.5;
  double shaft_diameter = 0.0;  ///< m, 0 = none
  Tolerances tolerances;
  std::optional<double> input_inertia, output_inertia;  ///< kg·m²
  std::vector<Bearing> bearings;
};

struct Requirements {
  std::optional<double> slip_torque;         ///< N·m on the output
  double safety_factor = 1.5;                ///< slip torque over load
  std::optional<double> cogging;             ///< part of the slip torque
  std::optional<double> efficiency;          ///< part of one
  double magnet_margin = 0.1;                ///< part of the knee's field
  double clearance = 0.2e-3;                 ///< m
  std::optional<double> magnet_temperature;  ///< °C
  std::optional<double> active_mass;         ///< kg
  std::optional<double> outer_diameter;      ///< m
};

/// Everything besides the field that decides whether a gear is good.
struct Service {
  Use use;
  AskedOverload overload;
  Build build;
  Requirements require;
  std::vector<Measured> measured;
  std::vector<Assumed> assumed;  ///< defaults that were taken
};

/// Reads [use], [[duty]], [[measured]], [overload], [build], [[bearing]] and [require]. The
/// carriers are still names.
Service read_service(TableReader& root, ReadLog& log);

}  // namespace lodegear
