// mesh/check_gear.h — whether the parts of a gear fit, told before anything is meshed.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "materials/input_error.h"
#include "mesh/gear.h"

namespace lodegear {

/// All that is impossible about a gear, in the user's own numbers (mm, degrees). `key` names the
/// case-file entry most likely at fault ("modulator.outer_radius_mm"); empty list = the gear can be
/// drawn. Checks: radii in order, gaps left (sleeves included), n = p_s + p_r, spans and coverage,
/// corners of blocks against neighbours, iron and gap, holes and corners inside the pole piece,
/// bridges thinner than the piece, odd magnets that exist.
std::vector<Complaint> check_gear(const Gear& gear);

/// Distances a builder asks for, m.
struct GapClearance {
  double magnetic = 0.0;       ///< between the steel or magnets on both sides
  double running_inner = 0.0;  ///< smallest clear distance below the sleeve, or the whole gap
  double running_outer = 0.0;  ///< smallest clear distance above the sleeve, or the whole gap
};
GapClearance gap_clearance(const Gear& gear, Gap gap);

}  // namespace lodegear
