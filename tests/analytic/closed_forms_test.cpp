// tests/analytic/closed_forms_test.cpp — the closed forms against sums over charges and quadrature.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/analytic/closed_forms.h"

#include <catch2/catch.hpp>

#include "tests/analytic/magnetic_charges.h"

using Catch::WithinAbs;
using Catch::WithinRel;

namespace lodegear {
namespace {

/// Potential of one order by linear finite elements in r, error h²: the weak form of
/// curl((B − B_rem)/mu_r) = 0 with natural (ideal-iron) ends.
struct RadialElements {
  std::vector<double> r, f;
};
RadialElements radial_elements(int n, const std::vector<Layer>& layers, int per_layer) {
  RadialElements s;
  s.r.push_back(layers.front().r_in);
  std::vector<Layer> of;
  for (const Layer& l : layers)
    for (int i = 1; i <= per_layer; ++i) {
      s.r.push_back(l.r_in + (l.r_out - l.r_in) * i / per_layer);
      of.push_back(l);
    }
  const std::size_t n_nodes = s.r.size();
  std::vector<double> low(n_nodes), main(n_nodes), load(n_nodes);
  for (std::size_t e = 0; e + 1 < n_nodes; ++e) {
    const double a = s.r[e], h = s.r[e + 1] - a;
    gauss(a, a + h, 1, [&](double x, double w) {
      const double g[] = {(a + h - x) / h, (x - a) / h}, dg[] = {-1.0 / h, 1.0 / h};
      const double wm = w / of[e].mu_r;
      for (int i = 0; i < 2; ++i) {
        main[e + i] += wm * (n * n * g[i] * g[i] / x + dg[i] * dg[i] * x);
        load[e + i] += wm * (n * of[e].br * g[i] - of[e].bt * dg[i] * x);
      }
      low[e + 1] += wm * (n * n * g[0] * g[1] / x + dg[0] * dg[1] * x);
    });
  }
  for (std::size_t i = 1; i < n_nodes; ++i) {  // tridiagonal elimination
    const double factor = low[i] / main[i - 1];
    main[i] -= factor * low[i];
    load[i] -= factor * load[i - 1];
  }
  s.f.assign(n_nodes, 0.0);
  s.f[n_nodes - 1] = load[n_nodes - 1] / main[n_nodes - 1];
  for (std::size_t i = n_nodes - 1; i-- > 0;)
    s.f[i] = (load[i] - low[i + 1] * s.f[i + 1]) / main[i];
  return s;
}

const CouplingRadii coupling{0.030, 0.036, 0.038, 0.044};

/// Torque on the inner ring from the slope of the co-energy (1/mu) ∫ B_rem,1 · B_2 of one order.
double coupling_torque_by_energy(const MagnetHarmonic& m, double mu_r, double ahead,
                                 int per_layer) {
  const auto s = radial_elements(m.n,
                                 {{coupling.iron_in, coupling.gap_in, mu_r, 0.0, 0.0},
                                  {coupling.gap_in, coupling.gap_out, 1.0, 0.0, 0.0},
                                  {coupling.gap_out, coupling.iron_out, mu_r, m.br, m.bt}},
                                 per_layer);
  double sum = 0.0;  // ∫ (br n f2 − bt f2' r) dr over the inner magnets
  for (int e = 0; e < per_layer; ++e)
    gauss(s.r[e], s.r[e + 1], 1, [&](double x, double w) {
      const double slope = (s.f[e + 1] - s.f[e]) / (s.r[e + 1] - s.r[e]);
      sum += w * (m.br * m.n * (s.f[e] + slope * (x - s.r[e])) - m.bt * slope * x);
    });
  return -pi_ * m.n / (mu0_exact * mu_r) * std::sin(m.n * ahead) * sum;
}

}  // namespace

TEST_CASE("cylinder in a field: its surface charges and the field make each other",
          "[analytic][closed_forms]") {
  const double a = 0.010, mu_r = 1000.0, b0 = 1.0;
  const Eigen::Vector2d inside = cylinder_in_field(a, mu_r, b0, {0.003, 0.002});
  // M = (mu_r − 1)/mu_r B/mu0; mu0 H inside is the applied field plus that of the charges.
  const double m = (mu_r - 1.0) / mu_r * inside.x();
  const Charges charges = harmonic_ring({1, m, -m}, 0.0, a);
  const Complex h_inside = b0 + field(charges, {0.003, 0.002});
  CHECK_THAT(h_inside.real() * mu_r, WithinRel(inside.x(), 1e-9));  // round-off times mu_r
  for (const double t : {0.0, 0.7, 2.0}) {
    const Complex z = std::polar(0.02, t), b = b0 + field(charges, z);
    const Eigen::Vector2d exact = cylinder_in_field(a, mu_r, b0, {z.real(), z.imag()});
    CHECK_THAT(exact.x(), WithinAbs(b.real(), 1e-12));  // round-off
    CHECK_THAT(exact.y(), WithinAbs(-b.imag(), 1e-12));
  }
}

TEST_CASE("magnetised rod: its surface charges make its field and its torque",
          "[analytic][closed_forms]") {
  const double a = 0.010, br = 1.2, mu_r = 1.3;
  const double b = magnetised_rod(a, br, mu_r, {0.001, 0.002}).x();
  const double m = b - (b - br) / mu_r;  // mu0 M = B − mu0 H
  const Charges charges = harmonic_ring({1, m, -m}, 0.0, a);
  CHECK_THAT(b, WithinRel(m + field(charges, {0.001, 0.002}).real(), 1e-12));  // round-off
  const Complex z = std::polar(0.017, 1.1), outside = field(charges, z);
  const Eigen::Vector2d exact = magnetised_rod(a, br, mu_r, {z.real(), z.imag()});
  CHECK_THAT(exact.x(), WithinAbs(outside.real(), 1e-12));
  CHECK_THAT(exact.y(), WithinAbs(-outside.imag(), 1e-12));

  double sum = 0.0;  // charges of a rod with mu_r = 1 in a field 0.5 T at 0.8 rad
  const Complex applied = std::polar(0.5, -0.8);
  for (const auto& [at, q] : harmonic_ring({1, br, -br}, 0.0, a))
    sum += q / mu0_exact * -(at * applied).imag();
  CHECK_THAT(rod_torque(a, br, 0.5, 0.8), WithinRel(sum, 1e-12));
}

TEST_CASE("pole harmonics: they are the Fourier coefficients of the arcs",
          "[analytic][closed_forms]") {
  const int p = 3;
  const double br = 1.2, arc = GENERATE(0.7, 1.0), w = arc * pi_ / (2 * p);
  for (const auto& m : radial_harmonics(p, br, arc, 33)) {
    double sum = 0.0;
    gauss(-w, w, 20, [&](double t, double dt) { sum += br * std::cos(m.n * t) * dt; });
    CHECK_THAT(m.br, WithinAbs(2 * p / pi_ * sum, 1e-13));  // round-off: Gauss is exact here
    CHECK(m.bt == 0.0);
  }
  for (const auto& m : parallel_harmonics(p, br, arc, 33)) {
    double radial = 0.0, tangential = 0.0;
    gauss(-w, w, 20, [&](double t, double dt) {
      radial += br * std::cos(t) * std::cos(m.n * t) * dt;
      tangential -= br * std::sin(t) * std::sin(m.n * t) * dt;
    });
    CHECK_THAT(m.br, WithinAbs(2 * p / pi_ * radial, 1e-13));
    CHECK_THAT(m.bt, WithinAbs(2 * p / pi_ * tangential, 1e-13));
  }
}

TEST_CASE("ring in air: the field is that of its charges", "[analytic][closed_forms]") {
  const int n = GENERATE(1, 2, 4);
  const MagnetHarmonic m{n, 1.2, GENERATE(0.0, 1.2, -1.2, 0.3)};
  const Charges charges = harmonic_ring(m, 0.020, 0.030);
  for (const double r : {0.012, 0.035})
    for (const double t : {0.1, 0.9}) {
      const Eigen::Vector2d sum = polar(field(charges, std::polar(r, t)), t);
      const Eigen::Vector2d exact = ring_in_air({m}, 0.020, 0.030, r, t);
      CHECK((exact - sum).norm() < 1e-10);  // 8-point Gauss through the magnet, b ~ 1 T
    }
  // In the magnet: B_r is continuous at both faces, B_theta steps by the surface current of B_rem.
  const double t = 0.6, in = 1e-12;
  for (const double face : {0.020, 0.030}) {
    const double side = face < 0.025 ? 1.0 : -1.0;
    const Eigen::Vector2d step = ring_in_air({m}, 0.020, 0.030, face + side * in, t) -
                                 ring_in_air({m}, 0.020, 0.030, face - side * in, t);
    CHECK_THAT(step.x(), WithinAbs(0.0, 1e-9));  // two radii 2e-12 m apart, gradient 100 T/m
    CHECK_THAT(step.y(), WithinAbs(m.bt * std::sin(n * t), 1e-9));
  }
}

TEST_CASE("segmented Halbach cylinder: the field is that of the charges on its segments",
          "[analytic][closed_forms]") {
  const auto [M, s0] = GENERATE(std::pair{12, 3}, std::pair{16, -3}, std::pair{8, 2});
  const double R1 = 0.020, R2 = 0.030, br = 1.2;
  Charges charges;
  for (int j = 0; j < M; ++j)
    add_sector(charges, R1, R2, 2 * pi_ * j / M, pi_ / M, br, s0 * 2 * pi_ * j / M);
  for (const double r : {0.012, 0.036}) {
    const Complex z = std::polar(r, 0.4), sum = field(charges, z);
    CHECK(std::abs(segmented_halbach(M, s0, br, R1, R2, z) - sum) < 1e-11);  // Gauss, 5 mm away
  }
}

TEST_CASE("segmented Halbach cylinder: many segments make a continuous one",
          "[analytic][closed_forms]") {
  const Complex b = segmented_halbach(4000, 3, 1.2, 0.020, 0.030, 0.015);
  const double exact = ring_in_air(continuous_halbach(2, 1.2, false), 0.020, 0.030, 0.015, 0.0).x();
  CHECK_THAT(b.real(), WithinRel(exact, 1e-6));  // S(s) = 1 − (sπ/M)²/6 = 1 − 9.3e-7
}

TEST_CASE("Halbach cylinders: the torque is that of charges in a field",
          "[analytic][closed_forms]") {
  const int p = GENERATE(1, 2);
  const double ahead = 0.3;
  const Charges inner = harmonic_ring({p, 1.2, -1.2}, 0.020, 0.030, ahead);
  const Charges outer = harmonic_ring({p, 1.1, 1.1}, 0.032, 0.045);
  CHECK_THAT(halbach_cylinders_torque(p, 0.020, 0.030, 1.2, 0.032, 0.045, 1.1, ahead),
             WithinRel(torque(inner, outer), 1e-9));  // 8-point Gauss through the magnets
}

TEST_CASE("layers: the potential is that of finite elements along the radius",
          "[analytic][closed_forms]") {
  const int n = GENERATE(1, 4, 20);
  const std::vector<Layer> layers{{0.030, 0.036, 1.2, 1.1, 0.4}, {0.036, 0.038, 1.0, 0.0, 0.0}};
  const LayeredHarmonic exact(n, layers, ideal_iron_mu, ideal_iron_mu);
  const auto coarse = radial_elements(n, layers, 500), fine = radial_elements(n, layers, 1000);
  for (const int k : {0, 250, 500, 750, 1000}) {
    const double f = (4.0 * fine.f[2 * k] - coarse.f[k]) / 3.0;  // error h² taken out
    CHECK_THAT(exact.potential(coarse.r[k]),
               WithinRel(f, 1e-8));  // h⁴ and the condition of the sum
  }
}

TEST_CASE("layers: in air all round they give the ring in air", "[analytic][closed_forms]") {
  const MagnetHarmonic m{4, 1.2, 0.5};
  const LayeredHarmonic f(4,
                          {{0.010, 0.020, 1.0, 0.0, 0.0},
                           {0.020, 0.030, 1.0, m.br, m.bt},
                           {0.030, 0.040, 1.0, 0.0, 0.0}},
                          1.0, 1.0);
  for (const double r : {0.012, 0.024, 0.036}) {
    const Eigen::Vector2d b = ring_in_air({m}, 0.020, 0.030, r, 0.3);
    CHECK_THAT(4 * f.potential(r) / r * std::cos(1.2), WithinRel(b.x(), 1e-12));  // round-off
    CHECK_THAT(-f.slope(r) * std::sin(1.2), WithinRel(b.y(), 1e-12));
  }
}

TEST_CASE("layers: a core of permeability 1e9 is ideal iron", "[analytic][closed_forms]") {
  const std::vector<Layer> layers{{0.030, 0.036, 1.05, 1.2, 0.0}, {0.036, 0.038, 1.0, 0.0, 0.0}};
  const LayeredHarmonic ideal(4, layers, ideal_iron_mu, ideal_iron_mu), steel(4, layers, 1e9, 1e9);
  CHECK_THAT(steel.potential(0.037), WithinRel(ideal.potential(0.037), 1e-7));  // ~10/mu
}

TEST_CASE("slotless gap: the field sums the orders of the layers", "[analytic][closed_forms]") {
  // Infinite-iron formula for mu_r = 1 and radial magnets by quadrature of the magnet:
  //   B_r = Σ (n/r) B_n cosh(n ln(Ro/r))/sinh(n ln(Ro/Ri)) ∫ cosh(n ln(s/Ri)) ds cos nt
  const double Ri = 0.030, R2 = 0.036, Ro = 0.038, r = 0.037, t = 0.2;
  const auto orders = radial_harmonics(4, 1.2, 1.0, 400);
  double sum = 0.0;
  for (const auto& m : orders) {
    double integral = 0.0;
    gauss(Ri, R2, 40,
          [&](double s, double w) { integral += w * std::cosh(m.n * std::log(s / Ri)); });
    sum += m.n / r * m.br * integral * std::cosh(m.n * std::log(Ro / r)) /
           std::sinh(m.n * std::log(Ro / Ri)) * std::cos(m.n * t);
  }
  CHECK_THAT(slotless_gap_field(orders, Ri, R2, Ro, 1.0, r, t).x(), WithinRel(sum, 1e-11));
}

TEST_CASE("coupling: the torque is the slope of the energy", "[analytic][closed_forms]") {
  const double mu_r = GENERATE(1.0, 1.05, 1.2), ahead = 0.13;
  const MagnetHarmonic m{GENERATE(1, 4, 12), 1.1, GENERATE(0.0, 0.4)};
  const double coarse = coupling_torque_by_energy(m, mu_r, ahead, 500);
  const double fine = coupling_torque_by_energy(m, mu_r, ahead, 1000);
  CHECK_THAT(coupling_torque({m}, {m}, coupling, mu_r, ahead),
             WithinRel((4.0 * fine - coarse) / 3.0, 1e-8));  // h⁴ and round-off of 1000 elements
}

TEST_CASE("closed forms: values computed independently", "[analytic][closed_forms]") {
  // Computed independently, by sums over charges and continuity solves; printed to these digits.
  const auto poles = radial_harmonics(4, 1.2, 1.0, 3000);
  const auto along = parallel_harmonics(4, 1.2, 1.0, 3000);
  const double digit6 = 6e-7;  // half of the last printed digit
  CHECK_THAT(ring_in_air(poles, 0.020, 0.030, 0.033, pi_ / 18).y(), WithinAbs(0.152249, digit6));
  CHECK_THAT(ring_in_air(along, 0.020, 0.030, 0.033, pi_ / 9).y(), WithinAbs(0.472585, digit6));
  CHECK_THAT(slotless_gap_field(poles, 0.030, 0.036, 0.038, 1.2, 0.037, pi_ / 18).x(),
             WithinAbs(0.762949, digit6));
  CHECK_THAT(slotless_gap_field(along, 0.030, 0.036, 0.038, 1.05, 0.037, pi_ / 9).x(),
             WithinAbs(0.496647, digit6));
  CHECK_THAT(coupling_torque(poles, poles, coupling, 1.0, pi_ / 8), WithinAbs(-1583.052, 6e-4));
  CHECK_THAT(coupling_torque(poles, poles, coupling, 1.05, pi_ / 12), WithinAbs(-1415.576, 6e-4));
  CHECK_THAT(coupling_torque(poles, poles, coupling, 1.2, pi_ / 24), WithinAbs(-910.511, 6e-4));
  CHECK_THAT(halbach_cylinders_torque(2, 0.020, 0.030, 1.2, 0.032, 0.045, 1.1, -0.3),
             WithinAbs(852.2965, 1.1e-4));  // one digit
}

}  // namespace lodegear
