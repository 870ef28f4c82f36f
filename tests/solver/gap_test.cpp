// tests/solver/gap_test.cpp — harmonics of a circle, the annulus between two, torque and force.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "materials/constants.h"
#include "solver/gap/annulus.h"
#include "solver/gap/circle_orders.h"
#include "solver/gap/gap_field.h"

using namespace lodegear;

static BoundaryCircle circle(int n_edges, double first_angle) {
  BoundaryCircle c{0.03, first_angle, {}};
  for (int i = 0; i < 2 * n_edges; ++i) c.nodes.push_back(i);
  return c;
}

// The quadratic trace of f on the circle, integrated finely against cos kθ and sin kθ.
static Eigen::Vector2d by_quadrature(const BoundaryCircle& c, const Eigen::VectorXd& f, int k) {
  const int n = c.n_edges(), fine = 400;
  const double half = pi / n;
  Eigen::Vector2d sum = Eigen::Vector2d::Zero();
  for (int e = 0; e < n; ++e)
    for (int i = 0; i < fine; ++i) {
      const double s = -1 + (2 * i + 1.0) / fine;  // −1 … 1 along the edge
      const double value = 0.5 * s * (s - 1) * f[2 * e] + (1 - s * s) * f[2 * e + 1] +
                           0.5 * s * (s + 1) * f[(2 * e + 2) % (2 * n)];
      const double theta = c.first_angle + (2 * e + 1 + s) * half;
      sum += value * Eigen::Vector2d(std::cos(k * theta), std::sin(k * theta));
    }
  return sum * (2 * half / fine) / pi;
}

TEST_CASE("circle orders: the integrals of the quadratic trace are exact", "[solver][gap]") {
  const BoundaryCircle c = circle(20, 0.1);
  std::mt19937 random(1);
  Eigen::VectorXd f(40);
  for (double& value : f) value = std::uniform_real_distribution(-1.0, 1.0)(random);
  const Eigen::VectorXd amplitudes = circle_orders(c, 1, 12) * f;
  for (int k = 1; k <= 12; ++k) {
    const Eigen::Vector2d expected = by_quadrature(c, f, k);
    // 400 midpoints an edge leave (kh/400)²/24 of the integral.
    CHECK(amplitudes[k - 1] == Approx(expected[0]).margin(3e-6));
    CHECK(amplitudes[12 + k - 1] == Approx(expected[1]).margin(3e-6));
  }
}

TEST_CASE("circle orders: small and large order weights join smoothly", "[solver][gap]") {
  // kh crosses the switch between series and closed form between orders 1 and 7 of 1000 edges; a
  // smooth function's amplitudes are then good to the fourth order of kh.
  const BoundaryCircle c = circle(1000, 0.0);
  for (int k : {1, 3, 6, 7, 12}) {
    Eigen::VectorXd f(2000);
    for (int i = 0; i < 2000; ++i) f[i] = std::cos(k * pi * i / 1000.0);
    CHECK(circle_orders(c, 1, 12).row(k - 1).dot(f) ==
          Approx(1.0).epsilon(1e-11 + std::pow(k * pi / 1000, 4) / 50));
  }
}

TEST_CASE("circle orders: a constant has none", "[solver][gap]") {
  const Eigen::MatrixXd orders = circle_orders(circle(50, 0.3), 1, 20);
  CHECK((orders * Eigen::VectorXd::Ones(100)).norm() < 1e-14);  // round-off
}

TEST_CASE("annulus: compliance is the inverse of the stiffness coth, 1/sinh", "[solver][gap]") {
  const AnnulusCompliance a = annulus_compliance(0.030, 0.031, 300);
  for (int k : {1, 5, 60, 300}) {
    const double x = k * std::log(31.0 / 30.0), s = pi * nu0 * k;
    const double own = s / std::tanh(x), cross = -s / std::sinh(x);  // stiffness
    const double determinant = own * own - cross * cross;
    CHECK(a.own[k - 1] == Approx(own / determinant).epsilon(1e-10));       // cancellation in the
    CHECK(a.cross[k - 1] == Approx(-cross / determinant).epsilon(1e-10));  // determinant
  }
}

static GapField random_gap(unsigned seed, int n_orders) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> uniform(-1e-3, 1e-3);
  GapField gap{0.030, 0.0305, Eigen::VectorXd(2 * n_orders), Eigen::VectorXd(2 * n_orders)};
  for (double& value : gap.at_inner) value = uniform(random);
  for (double& value : gap.at_outer) value = uniform(random);
  return gap;
}

TEST_CASE("gap torque: the stress integral gives the same number on every circle",
          "[solver][gap]") {
  // T/L = (r²/µ0) ∮ B_r B_θ dθ; Jackson, Classical Electrodynamics, 3rd ed., §6.7.
  const GapField gap = random_gap(7, 20);
  for (double r : {0.0300, 0.0302, 0.0305}) {
    const FluxHarmonics h = flux_harmonics(gap, r);
    double sum = 0.0;
    for (int i = 0; i < 100; ++i) {  // exact for products of 20 orders
      const Eigen::Vector2d b = flux_density(h, 2 * pi * i / 100);
      sum += b[0] * b[1];
    }
    CHECK(gap_torque(gap) == Approx(r * r * nu0 * sum * 2 * pi / 100).epsilon(1e-10));  // round-off
  }
}

TEST_CASE("gap torque: a bar magnet turns towards the field", "[solver][gap]") {
  // A line dipole m at angle 0.4 in a uniform field B at angle 1.1 feels m B sin(1.1 − 0.4)
  // (Jackson, 3rd ed., §5.7). A_dipole = µ0/(2π r) m sin(θ − 0.4), A_field = B r sin(θ − 1.1).
  const double m = 3.0, b = 0.2;
  GapField gap{0.030, 0.031, Eigen::VectorXd(2), Eigen::VectorXd(2)};
  const auto potential = [&](double r) {
    const double d = mu0 * m / (2 * pi * r), u = b * r;
    return Eigen::Vector2d(-d * std::sin(0.4) - u * std::sin(1.1),
                           d * std::cos(0.4) + u * std::cos(1.1));
  };
  gap.at_inner = potential(gap.r_inner);
  gap.at_outer = potential(gap.r_outer);
  CHECK(gap_torque(gap) == Approx(m * b * std::sin(0.7)).epsilon(1e-12));  // closed form both sides
}

TEST_CASE("gap force: a current pulls as Laplace says", "[solver][gap]") {
  // A line current I inside and a uniform field outside give I z × B per metre; the current's own
  // order 0 is not in the harmonics, so a shifted pair is used: currents ±I at ±d make orders 1, 3,
  // … and a field gradient g of order 2 pulls the dipole m = 2 I d (along y) with F = m·∇B.
  const double m = 2.5, g = 4.0;  // A·m, T/m: B = g (y, x), so A = g (y² − x²)/2
  GapField gap{0.030, 0.031, Eigen::VectorXd::Zero(4), Eigen::VectorXd::Zero(4)};
  const auto fill = [&](Eigen::VectorXd& c, double r) {
    c[1] = -0.5 * g * r * r;         // cos 2θ
    c[0] = -mu0 * m / (2 * pi * r);  // dipole along +y: A = −µ0 m cos θ/(2π r)
  };
  fill(gap.at_inner, gap.r_inner);
  fill(gap.at_outer, gap.r_outer);
  // F = ∇(m·B), m = m ŷ, B_y = g x: F = (m g, 0).
  CHECK(gap_force(gap)[0] == Approx(m * g).epsilon(1e-10));
  CHECK(gap_force(gap)[1] == Approx(0.0).margin(1e-10 * m * g));
}
