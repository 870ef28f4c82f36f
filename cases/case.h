// cases/case.h — what a case file asks for, as plain data in SI units.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "cases/service.h"
#include "materials/magnet.h"
#include "materials/other.h"
#include "materials/steel.h"
#include "materials/table_reader.h"
#include "mesh/gear.h"
#include "mesh/mesh_plan.h"

namespace lodegear {

// The keys of a case file stand beside what they fill: here those of the tasks, in read_gear.h
// those of the gear, in read_tasks.h those of the mesh, in resolve_materials.h those of materials.

/// Stands for a number of positions that the program chooses.
inline constexpr int chosen = 0;

/// [slip]: one member is turned while the others stand still.
struct SlipTask {
  /// slip.turned = "sun" | "modulator" | "ring". Default: the sun, or the first member there is.
  Member turned = Member::sun;
  /// slip.positions_per_period: positions in one electrical period of the load angle, at least 8.
  /// Default: chosen, 20 or as many as its harmonics ask for; 48 if the curve is not carried over
  /// one whole period.
  int positions_per_period = chosen;
  /// slip.last_load_angle_deg: the curve starts at load angle 0 and is carried to here, electrical
  /// degrees; the peak lies near 90, a full period is 360. Default 360. Here in rad.
  double last_load_angle = 0.0;
};

/// [running]: all members turn in step, as they do in use.
struct RunningTask {
  /// running.held = "sun" | "modulator" | "ring": the member that stands still. Default "ring".
  Member held = Member::ring;
  /// running.input = "sun" | "modulator" | "ring": the member that is driven from outside; the
  /// third is the output. Default: the sun, or the modulator if the sun is held.
  Member input = Member::sun;
  /// running.input_speed_rpm: speed of the input, positive counter-clockwise. Default 1000. Used
  /// for speeds and frequencies only; here in rad/s.
  double input_speed = 0.0;
  /// running.load_angles_deg: one running curve for each, electrical degrees, 0 = no load, whose
  /// ripple is the cogging. Default [0, 45]. Here in rad.
  std::vector<double> load_angles;
  /// running.positions_per_ripple: positions in one period of the lowest ripple that symmetry
  /// allows, at least 4. Default: chosen, 6 or as many as its harmonics ask for; 12 with
  /// full_cycle.
  int positions_per_ripple = chosen;
  /// running.full_cycle = true | false: go through the whole cycle of positions instead of one
  /// period of the ripple; needed when single magnets differ. Default: true with odd magnets.
  bool full_cycle = false;
};

/// How far off slip torque and ripple may be.
struct Accuracy {
  /// mesh.accuracy_percent: error of slip torque and of ripple, per cent of the slip torque, that
  /// is to be reached by refining; 0.001 to 10. Not together with other keys of [mesh]. Default
  /// 0.1, or none if the mesh is given by those. Here a part of one.
  std::optional<double> part;
  bool asked = false;  ///< by the user: not to reach it is then worth an exit code
};

/// How much of the vector potential is kept in the result file.
enum class KeptFields { none, first_position, every_position };

/// [output]
struct OutputTask {
  /// output.keep_fields = "none" | "first position" | "every position". Default "first position".
  KeptFields keep_fields = KeptFields::first_position;
};

/// Which way the sheets of grain-oriented pole pieces were rolled.
enum class RollingDirection { radial, tangential, mixed };

/// A magnet material in use. The gear's rotors name it by the label it has in Case::magnets.
struct MagnetInUse {
  std::string grade;
  MagnetMaterial material;
  double temperature = 20.0;  ///< °C
};

/// A steel or another soft material in use, named by its label in Case::steels.
struct SteelInUse {
  std::string grade;
  Steel material;
  double stacking_factor = 1.0;
};

/// A whole case. Angles in rad, lengths in m, from here on; the file has degrees and millimetres.
struct Case {
  std::string name;   ///< `name`: default the folder's name (for case.toml) or the file's
  std::string notes;  ///< `notes`: a few words that are printed with the results. Default none
  Gear gear;          ///< [gear] [sun] [modulator] [ring] [[sleeve]], see read_gear.h
  /// field.applied_T and field.applied_direction_deg: uniform flux density far away, T. Default 0.
  Eigen::Vector2d applied_field = Eigen::Vector2d::Zero();

  std::optional<SlipTask> slip;        ///< slip.compute. Default true with two members or more
  std::optional<RunningTask> running;  ///< running.compute. Default true with all three members
  Resolution resolution;               ///< [mesh], see read_tasks.h
  Accuracy accuracy;                   ///< mesh.accuracy_percent
  OutputTask output;
  Service service;  ///< [use] [build] [[bearing]] [require], see service.h

  /// gear.steel_curve = "typical" | "guaranteed minimum". Default "typical".
  SteelQuality steel_curve = SteelQuality::typical;
  /// modulator.rolling_direction, asked for when its material is grain-oriented sheet.
  std::optional<RollingDirection> rolling_direction;
  std::map<std::string, MagnetInUse> magnets;   ///< by label, as "N42 at 20 °C"
  std::map<std::string, SteelInUse> steels;     ///< by label, as "M470-50A, stacked 0.97"
  std::map<std::string, OtherMaterial> others;  ///< sleeves, by name

  std::vector<Assumed> assumed;  ///< defaults that were taken, for the results
  std::string source_text;       ///< the file as it was read
  std::filesystem::path path;    ///< empty if the case did not come from a file
};

}  // namespace lodegear
