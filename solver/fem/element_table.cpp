// solver/fem/element_table.cpp — what every triangle needs at its quadrature points, computed once.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fem/element_table.h"

#include <Eigen/LU>

namespace lodegear {

ElementPoint element_point(const MemberMesh& mesh, int triangle, double xi, double eta) {
  Eigen::Matrix<double, 6, 2> corners;
  for (int i = 0; i < 6; ++i) corners.row(i) = mesh.nodes.row(mesh.triangles(triangle, i));
  const Eigen::Matrix<double, 6, 2> g = shape_gradients(xi, eta);
  const Eigen::Matrix2d jacobian = g.transpose() * corners;  // rows: ∂x/∂xi, ∂x/∂eta
  const Eigen::Matrix<double, 6, 2> gradients = g * jacobian.inverse().transpose();
  ElementPoint point;
  point.bx = gradients.col(1);
  point.by = -gradients.col(0);
  point.x = corners.transpose() * shape_values(xi, eta);
  point.weight = jacobian.determinant();
  return point;
}

std::array<ElementPoint, n_quadrature> element_points(const MemberMesh& mesh, int triangle) {
  std::array<ElementPoint, n_quadrature> points;
  for (std::size_t q = 0; q < n_quadrature; ++q) {
    const TrianglePoint& at = triangle_quadrature()[q];
    points[q] = element_point(mesh, triangle, at.xi, at.eta);
    points[q].weight *= at.weight;
  }
  return points;
}

double triangle_area(const MemberMesh& mesh, int triangle) {
  double area = 0.0;
  for (const ElementPoint& p : element_points(mesh, triangle)) area += p.weight;
  return area;
}

ElementTable::ElementTable(const MemberMesh& mesh) {
  points_.reserve(static_cast<std::size_t>(mesh.triangles.rows()) * n_quadrature);
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    for (const ElementPoint& point : element_points(mesh, t)) points_.push_back(point);
}

}  // namespace lodegear
