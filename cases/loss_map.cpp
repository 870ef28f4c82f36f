// cases/loss_map.cpp — where in a member its losses arise, triangle by triangle.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/loss_map.h"

#include <algorithm>

namespace lodegear {

LossMap::LossMap(const MemberHistory& history)
    : history_(history),
      density_(static_cast<std::size_t>(history.member->mesh.triangles.rows()), 0.0) {}

void LossMap::add(const std::vector<std::pair<int, double>>& density) {
  for (const auto& [triangle, here] : density) add_to_copies(triangle, here);
}

void LossMap::add_bodies(const EddyLoss& loss, double factor) {
  const std::vector<int>& region = history_.member->mesh.region;
  for (const BodyLoss& body : loss.bodies) {
    const double here = factor * body.without_ends * body.end_factor / area({body.region});
    // A body may lie across the border of the sectors that stand for all.
    for (std::size_t t = 0; t < region.size(); ++t)
      if (region[t] == body.region) add_to_copies(static_cast<int>(t), here);
  }
}

void LossMap::add_ring(const std::vector<int>& regions, double loss) {
  const double here = loss / area(regions);
  const std::vector<int>& region = history_.member->mesh.region;
  for (std::size_t t = 0; t < region.size(); ++t)
    if (std::find(regions.begin(), regions.end(), region[t]) != regions.end()) density_[t] += here;
}

void LossMap::add_to_copies(int triangle, double density) {
  const std::size_t step = static_cast<std::size_t>(history_.cycle.sectors) *
                           static_cast<std::size_t>(history_.member->mesh.triangles_per_sector);
  for (int copy = 0; copy < history_.copies(); ++copy)
    density_[(static_cast<std::size_t>(triangle) + static_cast<std::size_t>(copy) * step) %
             density_.size()] += density;
}

double LossMap::area(const std::vector<int>& regions) const {
  double sum = 0.0;
  for (const int region : regions) sum += history_.region_area[region];
  return sum;
}

}  // namespace lodegear
