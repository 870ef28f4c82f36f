// mesh/sector_copies.h — a sector's mesh repeated around the member.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/quadratic_mesh.h"

namespace lodegear {

/// The whole member: sides merged, circles exact, regions numbered around. Quality is not set.
MemberMesh repeated(const UnitDrawing& unit, const Arrangement& drawing, const CutDrawing& cut,
                    const QuadraticMesh& sector);

}  // namespace lodegear
