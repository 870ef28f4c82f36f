// mesh/bulges.h — more nodes on arcs whose chords would come too near to something else.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/cut_drawing.h"

namespace lodegear {

/// Halves the sides of an arc until nothing else comes nearer to a side than some bulges of it, and
/// no side is another edge's too (a thin lens between an arc and its chord). Then the
/// polygons of the faces do not cross and triangles beside the arc keep their shape when curved.
/// End circles stay as they are. Where an arc and a line touch in a node this ends because both are
/// cut to about the same length.
void relieve_bulges(const UnitDrawing& unit, const Arrangement& drawing, CutDrawing& cut);

}  // namespace lodegear
