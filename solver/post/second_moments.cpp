// solver/post/second_moments.cpp — sizes of the bodies of a cross-section, read from the mesh.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/second_moments.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"
#include "solver/fem/element_table.h"

namespace lodegear {

double SecondMoments::height() const { return std::sqrt(12 * radial / area); }
double SecondMoments::width() const { return std::sqrt(12 * tangential / area); }

SecondMoments second_moments(const MemberMesh& mesh, const std::vector<int>& triangles) {
  SecondMoments m;
  Eigen::Matrix2d about_axis = Eigen::Matrix2d::Zero();
  for (int t : triangles)
    for (const ElementPoint& p : element_points(mesh, t)) {
      m.area += p.weight;
      m.centre += p.weight * p.x;
      about_axis += p.weight * p.x * p.x.transpose();
    }
  m.centre /= m.area;
  const Eigen::Matrix2d about_centre = about_axis - m.area * m.centre * m.centre.transpose();
  const double r = m.centre.norm();
  const Eigen::Vector2d out =
      r > 1e-9 * std::sqrt(m.area) ? Eigen::Vector2d(m.centre / r) : Eigen::Vector2d::UnitX();
  const Eigen::Vector2d along(-out[1], out[0]);
  m.radial = out.dot(about_centre * out);
  m.tangential = along.dot(about_centre * along);
  return m;
}

RingSize ring_size(const MemberMesh& mesh, const std::vector<int>& regions) {
  double area = 0.0, polar_moment = 0.0;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    if (std::find(regions.begin(), regions.end(), mesh.region[static_cast<std::size_t>(t)]) ==
        regions.end())
      continue;
    for (const ElementPoint& p : element_points(mesh, t)) {
      area += p.weight;
      polar_moment += p.weight * p.x.squaredNorm();
    }
  }
  // π (R² − r²) and π (R⁴ − r⁴)/2
  const double difference = area / pi, sum = 2 * polar_moment / area;
  const double outer = std::sqrt((sum + difference) / 2);
  const double inner = std::sqrt(std::max(0.0, (sum - difference) / 2));
  return {(outer + inner) / 2, outer - inner};
}

}  // namespace lodegear
