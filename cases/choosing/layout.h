// cases/choosing/layout.h — radii from the outside to the inside, shared by arcs and blocks.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/choosing/section.h"

namespace lodegear {

// All in millimetres. Radii are round tenths, as a drawing has them.
double tenth_down(double mm);
double tenth_up(double mm);

/// Outer radius of the whole.
double envelope_radius(const Wish& wish);
/// Radius at which the back iron begins.
double back_iron_radius(const PoleSet& set, const Wish& wish);
/// Height of the pole pieces under their outer radius: of their pitch, but not less than gaps and
/// stiffness ask for.
double piece_height(const PoleSet& set, const Wish& wish, double outer_radius, double factor);
/// Least thickness of magnets that is still handled.
double least_thickness(const Wish& wish);
/// Steel left between bore and magnets.
inline constexpr double least_hub_mm = 2.0;

/// What both kinds of magnets have in common: names, counts, steel, modulator, tasks, require.
CaseDraft common_draft(const PoleSet& set, const Wish& wish);

/// "pole pieces would be 1.2 mm wide, less than 1.5 mm"; empty if they are wide enough.
std::string too_narrow(const char* what, double is_mm, double least_mm);

}  // namespace lodegear
