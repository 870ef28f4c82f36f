// tools/drawings/cut_files.h — DXF files of single parts and of the whole cross-section.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "tools/drawings/draw_options.h"
#include "tools/drawings/flat_part.h"

namespace lodegear {

/// Layers CUT and CUT_HOLES, grown by half the kerf; where there is a kerf also AS_DRAWN, the part
/// as it shall become; NOTES.
std::string part_dxf(const std::vector<FlatPart>& parts, double kerf, const std::string& note);

/// Every part of every member at its initial angle, a layer for each kind of part; AXIS.
std::string section_dxf(const Gear& gear);

/// The DXF files of what is cut from steel, and the section.
Files cut_files(const Gear& gear, const DrawOptions& options);

/// "POLE_PIECES", "SUN_MAGNETS", "HUB" …: the layer of a part in the section.
std::string layer_of(Member member, const std::string& part);

/// Hub or back iron of a rotor, as one or several pieces; empty where there is none.
std::vector<FlatPart> iron_parts(const Gear& gear, Member member);

}  // namespace lodegear
