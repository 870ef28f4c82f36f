// solver/fem/element_table.h — what every triangle needs at its quadrature points, computed once.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>
#include <vector>

#include "mesh/member_mesh.h"
#include "solver/fem/triangle.h"

namespace lodegear {

/// The curl of the shape functions at one quadrature point of one (curved) triangle:
/// B_x = Σ bx_i A_i with bx_i = ∂φ_i/∂y, and B_y = Σ by_i A_i with by_i = −∂φ_i/∂x. Unit 1/m.
struct ElementPoint {
  Eigen::Matrix<double, 6, 1> bx, by;
  Eigen::Vector2d x;    // m, in the member's frame
  double weight = 0.0;  // m², quadrature weight times Jacobian
};

/// Points of triangle t at [n_quadrature·t, n_quadrature·(t+1)).
class ElementTable {
 public:
  explicit ElementTable(const MemberMesh& mesh);
  const ElementPoint& at(int triangle, int q) const {
    return points_[static_cast<std::size_t>(triangle) * n_quadrature + static_cast<std::size_t>(q)];
  }
  int n_triangles() const { return static_cast<int>(points_.size() / n_quadrature); }

 private:
  std::vector<ElementPoint> points_;
};

/// The same at any reference point of one triangle; the weight is the Jacobian alone.
ElementPoint element_point(const MemberMesh& mesh, int triangle, double xi, double eta);
/// At the quadrature points of one triangle.
std::array<ElementPoint, n_quadrature> element_points(const MemberMesh& mesh, int triangle);
/// m², of the curved triangle.
double triangle_area(const MemberMesh& mesh, int triangle);

}  // namespace lodegear
