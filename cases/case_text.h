// cases/case_text.h — the one writer of case files: from a draft to commented text.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <variant>

#include "mesh/gear.h"

namespace lodegear {

// A draft is what a person would write down first, in the millimetres of the file. Rounding is up
// to whoever fills it: the numbers are written as they are.

struct ArcDraft {
  double inner_radius_mm = 0.0, outer_radius_mm = 0.0;
};

struct BlockDraft {
  double width_mm = 0.0;      ///< along the circle
  double thickness_mm = 0.0;  ///< along the radius, and magnetised that way
  double clearance_mm = 0.1;
  double seat_radius_mm = 0.0;
  int blocks_per_pole = 1;
};

struct IronDraft {
  std::string material;
  double inner_radius_mm = 0.0;  ///< of the hub; 0 = solid
  double outer_radius_mm = 0.0;  ///< of the back iron
};

struct RotorDraft {
  std::string grade;
  std::variant<ArcDraft, BlockDraft> magnets;
  int axial_rows = 1;             ///< not written where it is one
  double active_length_mm = 0.0;  ///< 0 = as the stack
  IronDraft iron;
};

struct ModulatorDraft {
  std::string material;
  double inner_radius_mm = 0.0, outer_radius_mm = 0.0;
  double span_percent = 50.0;
};

/// Poles in turn on both rotors, steel on both sides.
struct CaseDraft {
  std::string comment;  ///< lines that stand first; without '#'
  std::string name = "my gear";
  int sun_pole_pairs = 4, ring_pole_pairs = 19;
  double stack_length_mm = 40.0;
  std::optional<double> magnet_temperature;  ///< °C
  RotorDraft sun, ring;
  ModulatorDraft modulator;
  Member held = Member::ring, input = Member::sun;
  double input_speed_rpm = 1000.0;
  std::optional<double> wanted_slip_torque;        ///< N·m on the output
  std::optional<double> wanted_outer_diameter_mm;  ///< at most
};

/// A case file with a comment on every line that a beginner would ask about.
std::string case_text(const CaseDraft& draft);

}  // namespace lodegear
