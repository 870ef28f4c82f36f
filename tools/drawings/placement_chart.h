// tools/drawings/placement_chart.h — a rotor on paper, true to size, every magnet with its north.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>
#include "tools/drawings/drawings.h"

namespace lodegear {

/// One A4 page, or as many tiles as it takes, by rows from the top left; each with a scale check.
std::vector<Page> placement_chart(const Gear& gear, Member member, const std::string& case_name);

/// placement_sun.svg … or placement_sun_1_of_4.svg …, placement.csv and placement.txt.
Drawings placement_files(const Gear& gear, const std::string& case_name);

}  // namespace lodegear
