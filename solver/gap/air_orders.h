// solver/gap/air_orders.h — how many orders the edges of a circle resolve.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/member_mesh.h"

namespace lodegear {

/// Every order that the edges of a circle resolve: five nodes to the shortest wave. Up to it open
/// air is seen (theory 3.4).
inline int resolved_orders(const BoundaryCircle& circle) { return 2 * circle.n_edges() / 5; }

}  // namespace lodegear
