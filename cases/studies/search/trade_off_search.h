// cases/studies/search/trade_off_search.h — the only door to pagmo: points no other beats in all
// goals. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/studies/search/search_space.h"

namespace lodegear {

/// NSGA-II (Deb, Pratap, Agarwal, Meyarivan, IEEE Trans. Evol. Comput. 6 (2002) 182) from a Latin
/// hypercube, a generation at a time; limits by Deb's rule. Returns every point asked for; the same
/// options but threads give the same points in the same order.
Trail trade_off_search(const SearchSpace& space, std::size_t n_goals, const SearchOptions& options,
                       const Evaluate& evaluate);

/// Places in a trail of the allowed points that no other dominates, by the first goal; of equal
/// points the first.
std::vector<std::size_t> front_of(const Trail& trail);

std::string pagmo_version();

}  // namespace lodegear
