// cases/block_fit.cpp — how rectangular blocks stand around an axis.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/block_fit.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"

namespace lodegear {

namespace {

// Between neighbours 0.05 mm stay free, so that no slit is too thin to be meshed.
double half_place(const BlockPlace& block) { return half_width(block) + 0.025; }

}  // namespace

double half_width(const BlockPlace& block) { return block.width_mm / 2 + block.clearance_mm; }

double least_face_distance(const BlockPlace& block, int n) {
  return half_place(block) / std::tan(pi / n) + block.clearance_mm;
}

int blocks_per_pole(const BlockPlace& block, int pole_pairs, double face_distance) {
  if (face_distance <= block.clearance_mm) return 0;
  const double span = 2 * std::atan(half_place(block) / (face_distance - block.clearance_mm));
  return std::min(64, static_cast<int>(std::floor(pi / pole_pairs / span + 1e-9)));
}

double seat_below_corner(const BlockPlace& block, double corner) {
  const double half = block.width_mm / 2;
  return corner <= half
             ? 0.0
             : twentieth_down(std::sqrt(corner * corner - half * half) - block.thickness_mm);
}

double twentieth_down(double mm) { return std::floor(mm * 20 + 1e-6) / 20; }
double twentieth_up(double mm) { return std::ceil(mm * 20 - 1e-6) / 20; }

}  // namespace lodegear
