// cases/new_case.h — a first case file to start from.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace lodegear {

/// What is known of a gear to be: pole counts and a block that can be bought. Millimetres. A zero
/// is chosen from the rest.
struct NewCaseOptions {
  std::string name = "my gear";
  int sun_pole_pairs = 4;
  int ring_pole_pairs = 19;
  double block_width_mm = 10.0;     ///< along the circle
  double block_thickness_mm = 5.0;  ///< along the radius, and magnetised that way
  double stack_length_mm = 40.0;
  double gap_mm = 1.0;        ///< of both gaps, from corner or face to pole piece
  double clearance_mm = 0.1;  ///< around a block, for glue and plating
  double modulator_inner_radius_mm = 0.0;
  double modulator_outer_radius_mm = 0.0;
  std::string grade = "N42";
  std::string sheet = "M470-50A";  ///< of the pole pieces
  std::string steel = "S235";      ///< of hub and back iron
};

/// A case file with a comment on every line that a beginner would ask about: blocks on both rotors,
/// as many side by side as fit, poles in turn, steel on both sides. It reads without complaint.
/// Throws InputError with what would be right if no such gear exists.
std::string new_case_text(const NewCaseOptions& options);

}  // namespace lodegear
