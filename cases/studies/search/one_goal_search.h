// cases/studies/search/one_goal_search.h — the best point of a space under limits.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/studies/search/search_space.h"

namespace lodegear {

/// Looks over the whole space first (a Latin hypercube), then goes downhill from the best places
/// side by side with what is chosen held fixed, exchanges single choices of the best point, and
/// goes on from the best again in smaller steps; then looks elsewhere, until the points are used
/// up. Of choices alone every combination is asked for if the points suffice. Returns every point
/// asked for; the same options but threads give the same points in the same order.
Trail one_goal_search(const SearchSpace& space, const SearchOptions& options,
                      const Evaluate& evaluate);

/// The place of the best in a trail by merit, the first of equals.
std::size_t best_of(const Trail& trail);

}  // namespace lodegear
