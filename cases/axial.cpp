// cases/axial.cpp — overlap of the members along the axis.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/axial.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace lodegear {

namespace {

std::vector<AxialExtent> extents(const Gear& gear) {
  std::vector<AxialExtent> all;
  const auto add = [&all](const auto& member) {
    if (member)
      all.push_back({member->axial_offset - member->active_length / 2,
                     member->axial_offset + member->active_length / 2});
  };
  add(gear.sun);
  add(gear.modulator);
  add(gear.ring);
  return all;
}

}  // namespace

AxialExtent common_extent(const Gear& gear) {
  AxialExtent common{-std::numeric_limits<double>::max(), std::numeric_limits<double>::max()};
  for (const AxialExtent& e : extents(gear))
    common = {std::max(common.from, e.from), std::min(common.to, e.to)};
  return common;
}

bool has_overhang(const Gear& gear) {
  constexpr double same_place = 1e-9;  // m; far below what can be made or measured
  const AxialExtent common = common_extent(gear);
  const std::vector<AxialExtent> all = extents(gear);
  return std::any_of(all.begin(), all.end(), [&](const AxialExtent& e) {
    return std::abs(e.from - common.from) > same_place || std::abs(e.to - common.to) > same_place;
  });
}

}  // namespace lodegear
