// solver/gap/circle_orders.cpp — from the potential on a circle of element edges to its harmonics.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/gap/circle_orders.h"

#include <cmath>
#include <stdexcept>

#include "materials/constants.h"

namespace lodegear {

namespace {

// ∮ φ e^{ikθ} dθ = weight · e^{ik θ_node} for the hat functions of a circle of edges of half-angle
// h.
struct HatWeights {
  double corner, middle;
};

// With x = kh. Middle: φ = 1 − t²/h². Corner: φ = (t² ± th)/2h² on the edges before and after.
HatWeights hat_weights(double k, double h) {
  const double x = k * h;
  if (x < 0.02) {  // series: the closed form cancels; both are good to about 1e-12 here
    const double x2 = x * x;
    return {h * (2.0 / 3.0 + x2 * (2.0 / 15.0) - x2 * x2 * (4.0 / 105.0)),
            h * (4.0 / 3.0 - x2 * (2.0 / 15.0) + x2 * x2 / 210.0)};
  }
  const double s = std::sin(x), c = std::cos(x);
  const double even = h * (s / x + 2 * c / (x * x) - 2 * s / (x * x * x));
  const double odd = h * (s / (x * x) - c / x);
  return {2 * (even * c + odd * s), h * 4 * (s - x * c) / (x * x * x)};
}

}  // namespace

Eigen::MatrixXd circle_orders(const BoundaryCircle& circle, int first, int last) {
  return circle_orders(circle, first, last, static_cast<int>(circle.nodes.size()));
}

Eigen::MatrixXd circle_orders(const BoundaryCircle& circle, int first, int last, int n_nodes) {
  const int n_orders = last - first + 1;
  const int all_nodes = static_cast<int>(circle.nodes.size());
  if (all_nodes == 0) throw std::logic_error("a circle without nodes has no orders");
  const double step = 2 * pi / all_nodes;  // = half-angle of an edge
  // Few angles are needed: k·i reduced to the circle, so that equal sectors get equal bits too.
  Eigen::ArrayXd cosine(all_nodes), sine(all_nodes);
  for (int j = 0; j < all_nodes; ++j) {
    cosine[j] = std::cos(step * j);
    sine[j] = std::sin(step * j);
  }
  Eigen::MatrixXd orders(2 * n_orders, n_nodes);
  for (int k = first; k <= last; ++k) {
    const HatWeights weight = hat_weights(k, step);
    const double c = std::cos(k * circle.first_angle) / pi;
    const double s = std::sin(k * circle.first_angle) / pi;
    for (int i = 0; i < n_nodes; ++i) {
      const auto at = static_cast<Eigen::Index>((static_cast<long>(k) * i) % all_nodes);
      const double w = i % 2 == 0 ? weight.corner : weight.middle;
      orders(k - first, i) = w * (cosine[at] * c - sine[at] * s);
      orders(n_orders + k - first, i) = w * (sine[at] * c + cosine[at] * s);
    }
  }
  return orders;
}

Eigen::VectorXd turned(const Eigen::VectorXd& amplitudes, double angle) {
  const Eigen::Index n = amplitudes.size() / 2;
  Eigen::VectorXd result(2 * n);
  for (Eigen::Index k = 1; k <= n; ++k) {
    const double c = std::cos(static_cast<double>(k) * angle);
    const double s = std::sin(static_cast<double>(k) * angle);
    const double a = amplitudes[k - 1], b = amplitudes[n + k - 1];
    result[k - 1] = c * a - s * b;
    result[n + k - 1] = s * a + c * b;
  }
  return result;
}

}  // namespace lodegear
