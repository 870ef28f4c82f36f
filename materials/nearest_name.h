// materials/nearest_name.h — which known name was probably meant.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace lodegear {

/// Least number of insertions, deletions, replacements and swaps of neighbours that turn `a` into
/// `b`, upper and lower case being the same letter (optimal string alignment). Source: Damerau,
/// Commun. ACM 7 (1964) 171.
int edit_distance(std::string_view a, std::string_view b);

/// Names close enough to `name` to be worth suggesting, nearest first, at most `most` of them.
/// Close: a third of the letters may differ, at least one; or one name begins with the other.
std::vector<std::string> nearest_names(std::string_view name, const std::vector<std::string>& known,
                                       std::size_t most);

}  // namespace lodegear
