// cases/choosing/nothing_fits.h — what to tell a person whose wish nothing fits.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cases/choosing/choose.h"

namespace lodegear {

/// Why, and the nearest that is possible. `left_out`: what gives the ratio and cannot be built.
std::string nothing_fits(const Wish& wish, const std::vector<LeftOut>& left_out);

/// "10 to one, the opposite way"
std::string ratio_text(const SpeedRatio& drive);

}  // namespace lodegear
