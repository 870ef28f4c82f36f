// cases/thermal_of_case.h — a case as heat, friction and scales see it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cases/validation.h"
#include "solver/post/gear_temperature.h"

namespace lodegear {

/// The drive that [running] describes: held, input, and the third member as the output.
Drive drive_of(const Case& c);

/// The gear as layers from shaft to back iron, without losses; `speeds` of its members. Where the
/// case says nothing of a housing there is none. Missing heat data of a material of the case's own
/// are those of plain steel or of sintered magnets.
GearThermal thermal_of(const CaseResult& gear, const MemberSpeeds& speeds);

/// [[bearing]], or, if there are none, two with rubbing seals for each turning member (15 mm bore),
/// and the air in the gaps.
std::vector<FrictionPart> friction_of(const CaseResult& gear, const Drive& drive);
/// Said with the results where bearings were assumed.
inline constexpr const char* assumed_bearings =
    "No [[bearing]] is given: two of 15 mm bore with rubbing seals were assumed for the input and "
    "two for the output; their drag is often the largest loss of a small gear.";

/// Of magnets and steel, from the areas of the meshes.
std::vector<PartMass> active_masses(const CaseResult& gear);

/// Largest diameter of magnets and steel, m.
double outer_diameter(const Gear& gear);

}  // namespace lodegear
