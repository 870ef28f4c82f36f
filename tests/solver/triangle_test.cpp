// tests/solver/triangle_test.cpp — the six-node triangle does what its degree promises.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fem/triangle.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace lodegear;

static double factorial(int n) { return n < 2 ? 1.0 : n * factorial(n - 1); }

TEST_CASE("triangle: the rule integrates every monomial up to degree 4", "[solver][triangle]") {
  // ∫ xi^a eta^b = a! b! / (a+b+2)!  (Strang, Fix, An Analysis of the Finite Element Method, §4.3)
  for (int a = 0; a <= 4; ++a)
    for (int b = 0; a + b <= 4; ++b) {
      double sum = 0.0;
      for (const TrianglePoint& q : triangle_quadrature())
        sum += q.weight * std::pow(q.xi, a) * std::pow(q.eta, b);
      CHECK(sum == Approx(factorial(a) * factorial(b) / factorial(a + b + 2))
                       .epsilon(1e-13));  // round-off of tabulated digits
    }
}

TEST_CASE("triangle: the functions are one at their own node and sum to one",
          "[solver][triangle]") {
  const double at[6][2] = {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}};
  for (int i = 0; i < 6; ++i) {
    const auto n = shape_values(at[i][0], at[i][1]);
    for (int j = 0; j < 6; ++j) CHECK(n[j] == Approx(i == j ? 1.0 : 0.0).margin(1e-15));
  }
  CHECK(shape_gradients(0.2, 0.3).colwise().sum().norm() < 1e-14);  // round-off
}

TEST_CASE("triangle: gradients are the slopes of the values", "[solver][triangle]") {
  const double h = 1e-5, x = 0.21, y = 0.37;
  const auto g = shape_gradients(x, y);
  const Eigen::Matrix<double, 6, 1> dx =
      (shape_values(x + h, y) - shape_values(x - h, y)) / (2 * h);
  const Eigen::Matrix<double, 6, 1> dy =
      (shape_values(x, y + h) - shape_values(x, y - h)) / (2 * h);
  CHECK((g.col(0) - dx).norm() < 1e-9);  // central difference of a quadratic: round-off / h
  CHECK((g.col(1) - dy).norm() < 1e-9);
}
