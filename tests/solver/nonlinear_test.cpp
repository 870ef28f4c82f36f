// tests/solver/nonlinear_test.cpp — the saturable member: derivatives, energy, manufactured
// solution. SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "solver/field/member_system.h"
#include "solver/linear/cholesky.h"
#include "tests/support/polar_mesh.h"

using namespace lodegear;

namespace {

// A saturating law whose knee lies where the fields below are: ν rises tenfold between 0 and 1.5 T.
Reluctivity steel() { return Reluctivity::exponential(40, 1.5, 400); }

FieldMember steel_ring(int rings, int cells) {
  FieldMember member;
  member.mesh = polar_mesh(Member::modulator, spaced(0.02, 0.03, rings), cells, 0.1,
                           {{RegionKind::steel, "steel", "ring", 0}}, [](int, int) { return 0; });
  member.laws = {{steel(), 0.0, {}}};
  member.inside = member.outside = Beyond::ideal_iron;  // natural boundary: no load from outside
  return member;
}

// The exact solution: A = a (cos of order 3) g(r) with g' = 0 at both radii, so that the natural
// boundary H_t = 0 holds whatever the law.
struct Manufactured {
  double a = 0.008, r1 = 0.02, r2 = 0.03;
  double radial(double r) const { return 1 + 0.5 * std::cos(pi * (r - r1) / (r2 - r1)); }
  double slope(double r) const {
    return -0.5 * pi / (r2 - r1) * std::sin(pi * (r - r1) / (r2 - r1));
  }
  double potential(double r, double t) const { return a * std::cos(3 * t) * radial(r); }
  // (B_r, B_θ) = (∂A/r∂θ, −∂A/∂r)
  Eigen::Vector2d flux(double r, double t) const {
    return {-3 * a / r * std::sin(3 * t) * radial(r), -a * std::cos(3 * t) * slope(r)};
  }
  Eigen::Vector2d field(double r, double t) const {
    const Eigen::Vector2d b = flux(r, t);
    return steel().at(b.squaredNorm()).nu * b;
  }
  // J_z = (1/r) ∂(r H_θ)/∂r − (1/r) ∂H_r/∂θ, by differences of the exact field (error 1e-9).
  double current(double r, double t) const {
    const double h = 1e-6, k = 1e-4;
    const auto fourth = [](auto f, double step) {
      return (8 * (f(step) - f(-step)) - (f(2 * step) - f(-2 * step))) / (12 * step);
    };
    const double dr = fourth([&](double s) { return (r + s) * field(r + s, t)[1]; }, h);
    const double dt = fourth([&](double s) { return field(r, t + s)[0]; }, k);
    return (dr - dt) / r;
  }
};

Eigen::VectorXd current_load(const FieldMember& member, const MemberSystem& system,
                             const Manufactured& exact) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(system.n_nodes());
  for (int t = 0; t < member.mesh.triangles.rows(); ++t)
    for (int q = 0; q < n_quadrature; ++q) {
      const ElementPoint& p = system.elements().at(t, q);
      const TrianglePoint& at = triangle_quadrature()[static_cast<std::size_t>(q)];
      const auto n = shape_values(at.xi, at.eta);
      const double j = exact.current(p.x.norm(), std::atan2(p.x[1], p.x[0]));
      for (int i = 0; i < 6; ++i) load[member.mesh.triangles(t, i)] += p.weight * j * n[i];
    }
  return load;
}

struct Errors {
  double a, b;  // L2 norms, relative
};

Errors solved_errors(int rings, int cells) {
  const Manufactured exact;
  const FieldMember member = steel_ring(rings, cells);
  const MemberSystem system(member, 0, 0);
  const Eigen::VectorXd load = current_load(member, system, exact);
  Eigen::VectorXd a = Eigen::VectorXd::Zero(system.n_nodes());
  Cholesky factor(system.matrix().pattern(), {});
  for (int step = 0; step < 30; ++step) {
    factor.factorise(system.tangent(a));
    const Eigen::VectorXd by = factor.solve(load - system.internal_load(a));
    a += by;
    if (by.norm() < 1e-13 * a.norm()) break;
  }
  double mean = 0.0, area = 0.0;  // A is known up to a constant
  const auto sum = [&](auto f) {
    for (int t = 0; t < member.mesh.triangles.rows(); ++t)
      for (int q = 0; q < n_quadrature; ++q) {
        const ElementPoint& p = system.elements().at(t, q);
        const TrianglePoint& at = triangle_quadrature()[static_cast<std::size_t>(q)];
        double value = 0.0;
        Eigen::Vector2d b(0, 0);
        const auto n = shape_values(at.xi, at.eta);
        for (int i = 0; i < 6; ++i) {
          const double node = a[member.mesh.triangles(t, i)];
          value += n[i] * node;
          b += node * Eigen::Vector2d(p.bx[i], p.by[i]);
        }
        f(p, value, b);
      }
  };
  sum([&](const ElementPoint& p, double value, const Eigen::Vector2d&) {
    mean += p.weight * (value - exact.potential(p.x.norm(), std::atan2(p.x[1], p.x[0])));
    area += p.weight;
  });
  double off_a = 0.0, all_a = 0.0, off_b = 0.0, all_b = 0.0;
  sum([&](const ElementPoint& p, double value, const Eigen::Vector2d& b) {
    const double r = p.x.norm(), t = std::atan2(p.x[1], p.x[0]);
    const double potential = exact.potential(r, t);
    const Eigen::Vector2d polar = exact.flux(r, t);
    const Eigen::Vector2d flux(polar[0] * std::cos(t) - polar[1] * std::sin(t),
                               polar[0] * std::sin(t) + polar[1] * std::cos(t));
    off_a += p.weight * std::pow(value - mean / area - potential, 2);
    all_a += p.weight * potential * potential;
    off_b += p.weight * (b - flux).squaredNorm();
    all_b += p.weight * flux.squaredNorm();
  });
  return {std::sqrt(off_a / all_a), std::sqrt(off_b / all_b)};
}

Eigen::VectorXd random_field(Eigen::Index n) {
  std::mt19937 random(3);
  Eigen::VectorXd a(n);
  for (double& value : a) value = std::uniform_real_distribution(-1e-3, 1e-3)(random);
  return a;
}

}  // namespace

TEST_CASE("nonlinear member: a constant potential has no load and no energy", "[solver][newton]") {
  const FieldMember member = steel_ring(2, 12);
  const MemberSystem system(member, 0, 0);
  double energy = 0.0;
  // The one node that fixes the constant answers ν0 A; nothing else does.
  Eigen::VectorXd load =
      system.internal_load(Eigen::VectorXd::Constant(system.n_nodes(), 0.01), &energy);
  load[member.mesh.triangles(0, 0)] -= nu0 * 0.01;
  CHECK(load.cwiseAbs().maxCoeff() < 1e-8);  // round-off of ν0 A
  CHECK(energy - 0.5 * nu0 * 0.01 * 0.01 == Approx(0.0).margin(1e-9));
}

TEST_CASE("nonlinear member: the load is the slope of the energy", "[solver][newton]") {
  const FieldMember member = steel_ring(2, 12);
  const MemberSystem system(member, 0, 0);
  const Eigen::VectorXd a = random_field(system.n_nodes()), by = random_field(a.size()).reverse();
  const double h = 1e-4;
  double before = 0.0, after = 0.0;
  const Eigen::VectorXd load = system.internal_load(a);
  system.internal_load(a - h * by, &before);
  system.internal_load(a + h * by, &after);
  CHECK((after - before) / (2 * h) == Approx(load.dot(by)).epsilon(1e-6));  // difference, order h²
}

TEST_CASE("nonlinear member: the tangent is the derivative of the load", "[solver][newton]") {
  const FieldMember member = steel_ring(2, 12);
  const MemberSystem system(member, 0, 0);
  const Eigen::VectorXd a = random_field(system.n_nodes()), by = random_field(a.size()).reverse();
  MemberMatrix::Sparse tangent = system.matrix().pattern();
  const Eigen::VectorXd values = system.tangent(a);
  std::copy(values.begin(), values.end(), tangent.valuePtr());
  const Eigen::VectorXd exact = tangent.selfadjointView<Eigen::Lower>() * by;
  const double h = 1e-4;
  const Eigen::VectorXd difference =
      (system.internal_load(a + h * by) - system.internal_load(a - h * by)) / (2 * h);
  CHECK((exact - difference).norm() < 1e-5 * exact.norm());  // central difference, order h²
}

TEST_CASE("nonlinear member: a manufactured field gains order p+1 in A and p in B",
          "[solver][convergence]") {
  // Strang, Fix, An Analysis of the Finite Element Method (1973), ch. 3: p = 2 here, law nonlinear.
  const Errors coarse = solved_errors(4, 24), middle = solved_errors(8, 48),
               fine = solved_errors(16, 96);
  const double rate_a = std::log2(middle.a / fine.a), rate_b = std::log2(middle.b / fine.b);
  INFO("A " << coarse.a << " " << middle.a << " " << fine.a << ", rate " << rate_a);
  INFO("B " << coarse.b << " " << middle.b << " " << fine.b << ", rate " << rate_b);
  CHECK(rate_a > 2.8);
  CHECK(rate_a < 3.6);  // the asymptotic range, not luck
  CHECK(rate_b > 1.9);
  CHECK(rate_b < 2.6);
}
