// solver/fem/triangle.h — the six-node triangle: shape functions and quadrature.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>

namespace lodegear {

/// Point of the reference triangle (0,0), (1,0), (0,1); weights sum to 1/2.
struct TrianglePoint {
  double xi, eta, weight;
};

inline constexpr int n_quadrature = 6;

/// Six interior points, exact for polynomials of degree 4.
/// Source: Strang, Fix, An Analysis of the Finite Element Method (1973), table 4.1 (their rule of
/// six points, degree 4); digits by Cowper, Int. J. Numer. Methods Eng. 7 (1973) 405.
const std::array<TrianglePoint, n_quadrature>& triangle_quadrature();

/// Values of the six quadratic Lagrange functions; corners 0,1,2, then mid-edges 0-1, 1-2, 2-0.
Eigen::Matrix<double, 6, 1> shape_values(double xi, double eta);

/// Their derivatives, 6×2: column 0 ∂/∂xi, column 1 ∂/∂eta.
Eigen::Matrix<double, 6, 2> shape_gradients(double xi, double eta);

}  // namespace lodegear
