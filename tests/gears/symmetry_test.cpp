// tests/gears/symmetry_test.cpp — what nature does not care about, the program does not either.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "solver/motion/positions.h"
#include "solver/motion/sweep.h"
#include "solver/motion/torque_curve.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;

namespace {

TestMaterials saturable() { return {1.30, 1.05, peer_steel()}; }
Resolution quick() { return {0.7, 48, 48}; }

std::vector<double> torque_of(const std::vector<FieldSolution>& solutions, Member m) {
  std::vector<double> t;
  for (const FieldSolution& s : solutions) {
    REQUIRE(s.summary.converged);
    t.push_back(s.torque(m));
  }
  return t;
}

double mean(const std::vector<double>& t) {
  return std::accumulate(t.begin(), t.end(), 0.0) / static_cast<double>(t.size());
}

}  // namespace

TEST_CASE("symmetry: turning everything together changes no torque", "[gears][symmetry]") {
  const FieldSolver solver = gear_solver(standard_gear(), saturable(), quick());
  const FieldSolution here = solver.solve({0.3, 0.01, 0.02});
  const FieldSolution there = solver.solve({0.3 + 0.777, 0.01 + 0.777, 0.02 + 0.777});
  // Newton stops at 1e-10 of the load.
  CHECK(there.torque_sun == Approx(here.torque_sun).epsilon(1e-9));
  CHECK(there.torque_ring == Approx(here.torque_ring).epsilon(1e-9));
}

TEST_CASE("symmetry: twice the size gives four times the torque per metre", "[gears][symmetry]") {
  Gear small = standard_gear(), large = small;
  const auto grow = [](MagnetRotor& r) {
    r.inner_radius *= 2;
    r.outer_radius *= 2;
    if (r.iron) r.iron->outer_radius *= 2;
  };
  grow(*large.sun);
  grow(*large.ring);
  large.modulator->inner_radius *= 2;
  large.modulator->outer_radius *= 2;
  const double small_torque =
      gear_solver(small, saturable(), quick()).solve({.sun = 0.3}).torque_sun;
  const double large_torque =
      gear_solver(large, saturable(), quick()).solve({.sun = 0.3}).torque_sun;
  // The mesher rounds differently at another scale; the mesh error itself is below this.
  CHECK(large_torque == Approx(4 * small_torque).epsilon(1e-4));
}

TEST_CASE("symmetry: the mean torque without saturation grows as the product of remanences",
          "[gears][symmetry]") {
  TestMaterials weak, strong;  // steel of constant permeability
  strong.remanence = 2 * weak.remanence;
  const Position p{.sun = 0.3};
  const double one = gear_solver(standard_gear(), weak, quick()).solve(p).torque_sun;
  const double two = gear_solver(standard_gear(), strong, quick()).solve(p).torque_sun;
  CHECK(two == Approx(4 * one).epsilon(1e-10));  // linear: round-off
}

TEST_CASE(
    "symmetry: over a full cycle only the orders that symmetry allows are there, and mean "
    "torques stand as p_s : -n : p_r",
    "[gears][symmetry][slow]") {
  // 4/17/13: LCM(2·4, 17) = 136 ripples a turn of the sun, here with four positions each and no use
  // of symmetry: every one of the 544 positions is solved. Proof of the rule: a shift of both
  // rotors by one pole-piece pitch, and the sign of both magnet sets reversed, repeat the state.
  const PoleCounts counts{4, 17, 13};
  const FieldSolver solver = gear_solver(standard_gear(), saturable(), quick());
  const int n = 4 * 136;
  SweepOptions options;
  options.threads = 2;
  const auto solutions =
      sweep_curve(solver, running_positions(counts, Member::modulator, pi / 2, 2 * pi, n), options);
  const double slip[3] = {std::abs(mean(torque_of(solutions, Member::sun))),
                          std::abs(mean(torque_of(solutions, Member::modulator))),
                          std::abs(mean(torque_of(solutions, Member::ring)))};
  for (Member m : {Member::sun, Member::modulator, Member::ring}) {
    const PeriodicCurve curve(torque_of(solutions, m));
    double forbidden = 0.0;
    for (int k = 1; k <= curve.n_orders(); ++k)
      if (k % 136 != 0) forbidden = std::max(forbidden, curve.amplitude(k));
    INFO(name_of(m) << ": largest forbidden order " << forbidden / slip[static_cast<int>(m)] * 1e6
                    << " ppm");
    CHECK(forbidden < 1e-8 * slip[static_cast<int>(m)]);  // 1e-2 ppm, the accuracy promised
  }
  const double sun = mean(torque_of(solutions, Member::sun));
  const double modulator = mean(torque_of(solutions, Member::modulator));
  const double ring = mean(torque_of(solutions, Member::ring));
  CHECK(ring / sun == Approx(13.0 / 4.0).epsilon(1e-6));  // no loss, so no net work in a cycle
  CHECK(modulator / sun == Approx(-17.0 / 4.0).epsilon(1e-6));
}

TEST_CASE("symmetry: an even number of pole pieces balances the pull", "[gears][symmetry]") {
  Gear gear = standard_gear();
  gear.modulator = sectors(18, 31 * mm, 37 * mm);
  gear.ring->pole_pairs = 14;
  const FieldSolver solver = gear_solver(gear, saturable(), quick());
  const FieldSolution even = solver.solve({.sun = 0.3});
  const FieldSolution odd = gear_solver(standard_gear(), saturable(), quick()).solve({.sun = 0.3});
  INFO("even " << gap_force(even.gaps[0]).norm() << ", odd " << gap_force(odd.gaps[0]).norm());
  CHECK(gap_force(even.gaps[0]).norm() < 1e-6 * gap_force(odd.gaps[0]).norm());  // Newton's end
}

TEST_CASE("symmetry: pole centre on a joint or on a segment: same mean torque, other ripple",
          "[gears][symmetry][slow]") {
  const PoleCounts counts{4, 17, 13};
  Ripple ripples[2];
  for (PoleCentre centre : {PoleCentre::on_segment, PoleCentre::on_joint}) {
    Gear gear = standard_gear();
    gear.sun->pattern = SteppedHalbach{6, FluxSide::outward, centre};
    const FieldSolver solver = gear_solver(gear, saturable(), {1.0, 143, 143});
    const auto positions = running_positions(counts, Member::modulator, pi / 2, 2 * pi / 136, 6);
    ripples[centre == PoleCentre::on_joint] =
        ripple(torque_of(sweep_curve(solver, positions), Member::sun));
  }
  INFO("mean " << ripples[0].mean << " " << ripples[1].mean << ", ripple "
               << ripples[0].peak_to_peak << " " << ripples[1].peak_to_peak);
  // The fundamental of the remanence is the same; meshes and saturation differ a little.
  CHECK(ripples[1].mean == Approx(ripples[0].mean).epsilon(1e-3));
  CHECK(std::abs(ripples[1].peak_to_peak / ripples[0].peak_to_peak - 1) > 0.05);
}

TEST_CASE("symmetry: one weak magnet lets through the orders that symmetry forbids",
          "[gears][symmetry]") {
  // The counter-example that shows the rule above is not met by blindness.
  Gear gear = standard_gear();
  gear.sun->odd_magnets = {{.index = 3, .strength = 0.9}};
  const PoleCounts counts{4, 17, 13};
  const FieldSolver solver = gear_solver(gear, {}, quick());  // linear steel is quick
  const auto positions = running_positions(counts, Member::modulator, pi / 2, 2 * pi, 136);
  const PeriodicCurve curve(torque_of(sweep_curve(solver, positions), Member::sun));
  double forbidden = 0.0;
  for (int k = 1; k < 68; ++k) forbidden = std::max(forbidden, curve.amplitude(k));
  INFO("largest forbidden order " << forbidden / std::abs(curve.mean()));
  CHECK(forbidden > 1e-5 * std::abs(curve.mean()));
}

TEST_CASE("symmetry: the same bits from one thread and from two", "[gears][sweep]") {
  const PoleCounts counts{4, 17, 13};
  const FieldSolver solver = gear_solver(standard_gear(), saturable(), {0.5, 32, 32});
  const auto positions = slip_positions(counts, Member::sun, 30);
  SweepOptions two;
  two.threads = 2;
  const auto a = sweep_curve(solver, positions);
  const auto b = sweep_curve(solver, positions, two);
  for (std::size_t i = 0; i < a.size(); ++i) {
    CHECK(a[i].torque_sun == b[i].torque_sun);
    CHECK(a[i].torque_ring == b[i].torque_ring);
  }
}
