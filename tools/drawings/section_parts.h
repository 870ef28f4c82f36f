// tools/drawings/section_parts.h — the parts of a gear, exactly as the field is solved for them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "tools/drawings/flat_part.h"

namespace lodegear {

/// Magnets, pole pieces, bridges, hub, back iron, wedges and sleeves of one member, each with the
/// outline that is meshed, in the member's frame; sorted by part, then around the member. A part
/// that others cut in two comes as several of one label.
std::vector<FlatPart> section_parts(const Gear& gear, Member member);

/// What is stamped or cut from one sheet: a pole piece centred on +x, or, with bridges, the whole
/// cage of pole pieces. Round bars likewise; none without a modulator.
std::vector<FlatPart> laminations(const Gear& gear);

/// How many of them lie side by side in the gear: the pole pieces, or 1 with bridges.
int laminations_around(const Gear& gear);

}  // namespace lodegear
