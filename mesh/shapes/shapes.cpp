// mesh/shapes/shapes.cpp — the table of shapes.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shapes/arc_magnets.h"
#include "mesh/shapes/block_magnets.h"
#include "mesh/shapes/round_bar.h"
#include "mesh/shapes/sector_pole.h"
#include "mesh/shapes/shape.h"
#include "mesh/shapes/spoke_magnets.h"

namespace lodegear {

MeshRegion magnet_label(const MagnetRotor& rotor, int index) {
  return {RegionKind::magnet, rotor.magnet, "magnet", index};
}
MeshRegion pole_piece_label(const Modulator& modulator, int index) {
  return {RegionKind::steel, modulator.material, "pole piece", index};
}
MeshRegion air_label() { return {RegionKind::air, air_name, "air", -1}; }

std::vector<Outline> body_outlines(const MagnetRotor& rotor, int index) {
  return std::visit([&](const auto& shape) { return outlines(shape, rotor, index); }, rotor.shape);
}
std::vector<Outline> body_outlines(const Modulator& modulator, int index) {
  return std::visit([&](const auto& shape) { return outlines(shape, modulator, index); },
                    modulator.shape);
}

RadialExtent body_extent(const MagnetRotor& rotor) {
  return std::visit([&](const auto& shape) { return radial_extent(shape, rotor); }, rotor.shape);
}
RadialExtent body_extent(const Modulator& modulator) {
  return std::visit([&](const auto& shape) { return radial_extent(shape, modulator); },
                    modulator.shape);
}

}  // namespace lodegear
