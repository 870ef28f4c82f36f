// tools/drawings/stl.h — carriers as solids for the printer: binary STL, millimetres.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <string>
#include <vector>

#include "tools/drawings/carriers.h"

namespace lodegear {

/// A closed surface: corners counter-clockwise seen from outside, m.
struct Solid {
  std::vector<std::array<Eigen::Vector3d, 3>> triangles;
};

/// Every face of the drawing up to its height, all from z = 0; arcs as chords that lie within
/// `chord_error` (m) of them. Neighbouring triangles share whole edges.
Solid solid(const Carrier& carrier, double chord_error = 5e-6);

/// Volume enclosed, m³.
double volume(const Solid& solid);

/// The file: 80 bytes of words, a count, and 50 bytes a triangle.
std::string stl_bytes(const Carrier& carrier, const std::string& words);

}  // namespace lodegear
