// solver/post/second_moments.h — sizes of the bodies of a cross-section, read from the mesh.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "mesh/member_mesh.h"

namespace lodegear {

/// Area and second moments about the centre of area; the axes are the radius through the centre and
/// the tangent there (+x and +y for a body on the axis).
struct SecondMoments {
  double area = 0.0;                      ///< m²
  Eigen::Vector2d centre = {0.0, 0.0};    ///< m
  double radial = 0.0, tangential = 0.0;  ///< m⁴: ∫ (distance along that axis)² dS
  double height() const;                  ///< m, radial side of the rectangle with these moments
  double width() const;                   ///< m, its tangential side
};
SecondMoments second_moments(const MemberMesh& mesh, const std::vector<int>& triangles);

/// A ring around the axis: mean radius and thickness of the annulus with the same area and the same
/// polar moment.
struct RingSize {
  double radius = 0.0;     ///< m
  double thickness = 0.0;  ///< m
};
RingSize ring_size(const MemberMesh& mesh, const std::vector<int>& regions);

}  // namespace lodegear
