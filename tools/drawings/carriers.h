// tools/drawings/carriers.h — what holds magnets and pole pieces: carriers, cage, end ring.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "cases/case.h"
#include "tools/drawings/draw_options.h"
#include "tools/drawings/flat_part.h"

namespace lodegear {

//      ____________________   plate + stack      fingers between the pockets stand on a plate
//     |  |    |  |    |  |
//     |  |    |  |    |  |                       pockets: the magnets or pole pieces with their
//     |__|____|__|____|__|__  plate               clearance, corners relieved, open at the top
//     |_____________________| 0

/// Faces labelled "carrier" are as high as plate and stack, "plate" ones as the plate alone, air is
/// cut through.
struct Carrier {
  Outline domain;
  std::vector<Outline> outlines;  ///< later over earlier
  double plate = 0.0;             ///< m thick; 0 = none
  double stack = 0.0;             ///< m
  double thinnest = 1.0;          ///< m, least distance of neighbouring pockets
};

/// Two lines of a usual printer, m (common practice, no source).
inline constexpr double thinnest_wall = 0.8e-3;

/// Of the magnets of a rotor. It reaches from steel (or shaft) to where the magnets' faces lie open
/// in the gap, and takes nothing of the running clearance. None where arcs sit on steel, which
/// needs no carrier, or where steel leaves no room for one.
std::optional<Carrier> rotor_carrier(const Case& c, Member member, const DrawOptions& options);

/// Of the pole pieces: bars between them on an end ring with the holes of the rods. None with
/// bridges, which hold the pieces themselves.
std::optional<Carrier> cage(const Case& c, const DrawOptions& options);

/// The end ring alone, for the other end, and to drill by: holes for the rods or round bars, the
/// first on +x. None where nothing is to be drilled.
std::optional<FlatPart> end_ring(const Case& c, const DrawOptions& options);

/// The cross-section above the plate.
std::vector<FlatPart> fingers(const Carrier& carrier);

}  // namespace lodegear
