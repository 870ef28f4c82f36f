// cases/studies/search/local_search.h — the only door to NLopt: downhill from a point.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/studies/search/search_space.h"

namespace lodegear {

enum class Downhill {
  linear_models,     ///< COBYLA: Powell (1994); follows limits
  quadratic_models,  ///< BOBYQA: Powell (2009); bends with the goal, limits add to it
  simplexes,         ///< Sbplx, after Rowan's Subplex (1990); looks at merits only, forgives jumps
};

struct LocalStart {
  SearchPoint point;
  double step = 0.1;  ///< first step, of an axis's length
  int points = 50;    ///< asked for at most, as in SearchOptions
  Downhill how = Downhill::linear_models;
  int most = 1000;  ///< asked for at most, cheap ones counted
};

/// Changes the continuous axes only and asks for one point after the other. The same start gives
/// the same points. What `evaluate` throws comes through.
Trail local_search(const SearchSpace& space, const LocalStart& start, const Evaluate& evaluate);

/// Steps below this are not taken any more, of an axis's length.
inline constexpr double finest_step = 1e-5;

std::string nlopt_version();

}  // namespace lodegear
