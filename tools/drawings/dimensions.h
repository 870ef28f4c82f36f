// tools/drawings/dimensions.h — dimension lines on a page.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "tools/drawings/page.h"

namespace lodegear {

/// Between two points of the paper, drawn `aside` to the left of the way from `from` to `to`.
void add_dimension(Page& page, const Eigen::Vector2d& from, const Eigen::Vector2d& to, double aside,
                   const std::string& text);

/// Diameters of a ring about `centre`, on lines below it; an inner radius of 0 has none. Radii of
/// the part; `scale` is that of the drawing.
void add_diameters(Page& page, const Eigen::Vector2d& centre, double scale, double inner,
                   double outer);

/// A leader from a point of an outline to words beside it; `to_left`: the words end there.
void add_leader(Page& page, const Eigen::Vector2d& at, const Eigen::Vector2d& words,
                const std::string& text, bool to_left = false);

}  // namespace lodegear
