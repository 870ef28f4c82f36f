// tests/gears/magnet_rings_test.cpp — magnet rings on the default mesh against textbook fields.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/post/flux_density.h"
#include "tests/analytic/closed_forms.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;

namespace {

// Amplitudes of cos kθ and sin kθ of a sampled function, k = 1 … n_orders.
Eigen::MatrixX2d harmonics_of(const Eigen::VectorXd& samples, int n_orders) {
  const auto n = samples.size();
  Eigen::MatrixX2d result = Eigen::MatrixX2d::Zero(n_orders, 2);
  for (Eigen::Index i = 0; i < n; ++i)
    for (int k = 1; k <= n_orders; ++k) {
      const double phase = 2 * pi * static_cast<double>((k * i) % n) / static_cast<double>(n);
      result.row(k - 1) += 2.0 / static_cast<double>(n) * samples[i] *
                           Eigen::RowVector2d(std::cos(phase), std::sin(phase));
    }
  return result;
}

struct GapError {
  double by_order;  // largest error of one harmonic of B_r or B_θ up to K
  double by_point;  // largest error of B at a point
};

// Errors on the middle circle of the gap, relative to the largest B there.
template <class Exact>
GapError gap_error(const GapField& gap, int n_orders, double r, Exact exact) {
  const FluxHarmonics h = flux_harmonics(gap, r);
  const int n = 2048;  // at mid-gap orders above 1000 have died out
  Eigen::VectorXd exact_r(n), exact_t(n);
  double worst = 0.0, largest = 0.0;
  for (int i = 0; i < n; ++i) {
    const double t = 2 * pi * i / n;
    const Eigen::Vector2d b = exact(r, t);
    exact_r[i] = b[0];
    exact_t[i] = b[1];
    if (i % 2 == 0) worst = std::max(worst, (flux_density(h, t) - b).norm());
    largest = std::max(largest, b.norm());
  }
  Eigen::MatrixX2d off_r = harmonics_of(exact_r, n_orders), off_t = harmonics_of(exact_t, n_orders);
  off_r.col(0) -= h.r_cos.head(n_orders);
  off_r.col(1) -= h.r_sin.head(n_orders);
  off_t.col(0) -= h.t_cos.head(n_orders);
  off_t.col(1) -= h.t_sin.head(n_orders);
  const double order =
      std::max(off_r.rowwise().norm().maxCoeff(), off_t.rowwise().norm().maxCoeff());
  return {order / largest, worst / largest};
}

double middle(const GapField& gap) { return std::sqrt(gap.r_inner * gap.r_outer); }

// A sun of 30–36 mm facing an outer band 38–44 mm, on ideal iron or in air; the ring may be dead.
Gear two_rings(int p, MagnetPattern sun, MagnetPattern ring, bool iron, bool live_ring) {
  Gear gear;
  gear.sun = arc_rotor(p, 30 * mm, 36 * mm, std::move(sun));
  gear.ring = arc_rotor(p, 38 * mm, 44 * mm, std::move(ring));
  if (iron) {
    gear.sun->iron = Iron{0.0, 30 * mm, ideal_iron_name};
    gear.ring->iron = Iron{44 * mm, 50 * mm, ideal_iron_name};
  }
  if (!live_ring) gear.ring->magnet = "no magnet";
  return gear;
}

// With the orders above K, which only the potentials tell.
FieldSolution filled(const FieldSolver& solver) {
  FieldSolution s = solver.solve({});
  solver.fill_potentials(s);
  return s;
}

int coupled_orders(const FieldSolver& solver) { return solver.problem().gaps[0].orders; }

constexpr int n_terms = 1000;

}  // namespace

TEST_CASE("magnet rings: radial and parallel rings between ideal irons", "[gears][analytic]") {
  // Zhu, Howe, Bolte, Ackermann, IEEE Trans. Magn. 29(1) (1993) 124; Xia, Zhu, Howe, IEEE Trans.
  // Magn. 40(4) (2004) 1864: layers of recoil permeability 1, so the dead ring is air.
  for (bool parallel : {false, true}) {
    const MagnetPattern pattern =
        parallel ? MagnetPattern(AlternatingParallel{}) : MagnetPattern(AlternatingRadial{});
    const FieldSolver solver = gear_solver(two_rings(4, pattern, AlternatingRadial{}, true, false));
    const FieldSolution s = filled(solver);
    const MagnetHarmonics harmonics = parallel ? parallel_harmonics(4, 1.2, 1.0, n_terms)
                                               : radial_harmonics(4, 1.2, 1.0, n_terms);
    const GapError error =
        gap_error(s.gaps[0], coupled_orders(solver), middle(s.gaps[0]), [&](double r, double t) {
          return slotless_gap_field(harmonics, 30 * mm, 36 * mm, 44 * mm, 1.0, r, t);
        });
    INFO((parallel ? "parallel " : "radial ")
         << error.by_order << " by order, " << error.by_point << " by point");
    CHECK(error.by_order < 1e-4);  // promised for the default mesh
    CHECK(error.by_point < 3e-2);  // see below
  }
}

TEST_CASE("magnet rings: radial, parallel and continuous Halbach rings in air",
          "[gears][analytic]") {
  // Furlani, Permanent Magnet and Electromechanical Devices (2001); Halbach, Nucl. Instrum. Methods
  // 169 (1980) 1.
  const std::vector<std::pair<MagnetPattern, MagnetHarmonics>> rings = {
      {AlternatingRadial{}, radial_harmonics(4, 1.2, 1.0, n_terms)},
      {AlternatingParallel{}, parallel_harmonics(4, 1.2, 1.0, n_terms)},
      {ContinuousHalbach{FluxSide::outward}, continuous_halbach(4, 1.2, true)}};
  for (const auto& [pattern, harmonics] : rings) {
    const FieldSolver solver =
        gear_solver(two_rings(4, pattern, AlternatingRadial{}, false, false));
    const FieldSolution s = filled(solver);
    const GapError error = gap_error(
        s.gaps[0], coupled_orders(solver), middle(s.gaps[0]),
        [&, &h = harmonics](double r, double t) { return ring_in_air(h, 30 * mm, 36 * mm, r, t); });
    INFO("pattern " << pattern.index() << ": " << error.by_order << " by order, " << error.by_point
                    << " by point");
    CHECK(error.by_order < 1e-4);  // promised for the default mesh
    // A sharp joint sends orders above K across half the gap; they fade as exp(−k g/2r).
    CHECK(error.by_point < (pattern.index() == 3 ? 1e-4 : 3e-2));
  }
}

TEST_CASE("magnet rings: segmented Halbach cylinders, outside and in the bore",
          "[gears][analytic]") {
  // Halbach, Nucl. Instrum. Methods 169 (1980) 1, complex field of M segments.
  for (FluxSide side : {FluxSide::outward, FluxSide::inward})
    for (int m : {4, 6, 8}) {
      const int p = 4;
      Gear gear = two_rings(p, AlternatingRadial{}, AlternatingRadial{}, false, true);
      const bool outward = side == FluxSide::outward;
      (outward ? gear.sun : gear.ring)->pattern = SteppedHalbach{m, side};
      (outward ? gear.ring : gear.sun)->magnet = "no magnet";
      const double inner = outward ? 30 * mm : 38 * mm, outer = outward ? 36 * mm : 44 * mm;
      const FieldSolver solver = gear_solver(gear);
      const FieldSolution s = filled(solver);
      const GapError error =
          gap_error(s.gaps[0], coupled_orders(solver), middle(s.gaps[0]), [&](double r, double t) {
            const auto b = segmented_halbach(m * p, outward ? 1 - p : 1 + p, 1.2, inner, outer,
                                             std::polar(r, t));
            return polar_components({b.real(), -b.imag()}, t);
          });
      INFO((outward ? "outward " : "inward ") << m << " segments a pole pair: " << error.by_order
                                              << " by order, " << error.by_point << " by point");
      CHECK(error.by_order < 1e-4);  // promised for the default mesh
      CHECK(error.by_point < 3e-2);  // as above
    }
}

TEST_CASE("magnet rings: a coupling carries the torque of the closed form", "[gears][analytic]") {
  // Layered harmonics as above, Maxwell stress on a circle in the gap.
  const MagnetHarmonics h = radial_harmonics(4, 1.2, 1.0, n_terms);
  for (double mu_rec : {1.0, 1.05, 1.2}) {
    TestMaterials materials;
    materials.mu_rec = mu_rec;
    const FieldSolver solver =
        gear_solver(two_rings(4, AlternatingRadial{}, AlternatingRadial{}, true, true), materials);
    for (double electrical : {30.0, 60.0, 90.0}) {
      const double ahead = electrical * degree / 4;
      const double exact =
          coupling_torque(h, h, {30 * mm, 36 * mm, 38 * mm, 44 * mm}, mu_rec, ahead);
      const double computed = solver.solve({.sun = ahead}).torque_sun;
      INFO("mu_rec " << mu_rec << ", " << electrical << " deg: " << computed << " of " << exact);
      CHECK(computed == Approx(exact).epsilon(1e-4));  // promised for the default mesh
    }
  }
}

TEST_CASE(
    "magnet rings: smooth rings gain with the element's order, segmented ones as their corners "
    "allow",
    "[gears][convergence]") {
  // Mid-gap B comes from integrals over the mesh, so a smooth source gains up to h⁴. At the corner
  // of a magnet B has a logarithm; the mesh is graded towards it, so little of that is seen.
  for (bool smooth : {true, false}) {
    std::vector<double> errors;
    for (double fineness : {1.0, 2.0}) {
      const MagnetPattern pattern = smooth ? MagnetPattern(ContinuousHalbach{FluxSide::outward})
                                           : MagnetPattern(AlternatingParallel{});
      const FieldSolver solver = gear_solver(
          two_rings(4, pattern, AlternatingRadial{}, false, false), {}, {fineness, 60, 60});
      const FieldSolution s = filled(solver);
      const MagnetHarmonics harmonics =
          smooth ? continuous_halbach(4, 1.2, true) : parallel_harmonics(4, 1.2, 1.0, 59);
      const GapField gap = s.gaps[0];
      double worst = 0.0;
      for (int k = 4; k < 60; k += 8) {
        MagnetHarmonics one;
        for (const MagnetHarmonic& h : harmonics)
          if (h.n == k) one.push_back(h);
        if (one.empty()) continue;
        const double exact = std::abs(ring_in_air(one, 30 * mm, 36 * mm, middle(gap), 0.0)[0]);
        worst = std::max(worst, std::abs(order_amplitude(gap, middle(gap), k)[0] - exact));
      }
      errors.push_back(worst);
    }
    const double rate = std::log2(errors[0] / errors[1]);
    INFO((smooth ? "smooth " : "segmented ")
         << errors[0] << " → " << errors[1] << ", rate " << rate);
    CHECK(rate > (smooth ? 2.0 : 1.0));
  }
}
