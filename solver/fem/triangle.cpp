// solver/fem/triangle.cpp — the six-node triangle: shape functions and quadrature.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fem/triangle.h"

namespace lodegear {

const std::array<TrianglePoint, n_quadrature>& triangle_quadrature() {
  static constexpr double a = 0.445948490915964886, wa = 0.5 * 0.223381589678011466;
  static constexpr double b = 0.091576213509770743, wb = 0.5 * 0.109951743655321868;
  static constexpr std::array<TrianglePoint, n_quadrature> points = {{{a, a, wa},
                                                                      {1 - 2 * a, a, wa},
                                                                      {a, 1 - 2 * a, wa},
                                                                      {b, b, wb},
                                                                      {1 - 2 * b, b, wb},
                                                                      {b, 1 - 2 * b, wb}}};
  return points;
}

Eigen::Matrix<double, 6, 1> shape_values(double xi, double eta) {
  const double l0 = 1 - xi - eta;
  Eigen::Matrix<double, 6, 1> n;
  n << l0 * (2 * l0 - 1), xi * (2 * xi - 1), eta * (2 * eta - 1), 4 * l0 * xi, 4 * xi * eta,
      4 * eta * l0;
  return n;
}

Eigen::Matrix<double, 6, 2> shape_gradients(double xi, double eta) {
  const double l0 = 1 - xi - eta;
  Eigen::Matrix<double, 6, 2> g;
  g << 1 - 4 * l0, 1 - 4 * l0,  //
      4 * xi - 1, 0,            //
      0, 4 * eta - 1,           //
      4 * (l0 - xi), -4 * xi,   //
      4 * eta, 4 * xi,          //
      -4 * eta, 4 * (l0 - eta);
  return g;
}

}  // namespace lodegear
