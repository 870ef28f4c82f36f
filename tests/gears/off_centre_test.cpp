// tests/gears/off_centre_test.cpp — side pulls of members that sit off centre.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/off_centre.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/analytic/closed_forms.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;
using nlohmann::json;

namespace {

OffCentrePull pull_at(const FieldSolver& solver, const Position& at) {
  FieldSolution s = solver.solve(at);
  REQUIRE(s.summary.converged);
  solver.fill_potentials(s);
  return OffCentre(solver.problem()).at(s);
}

// A sun in the smooth bore of ideal iron.
Gear sun_in_bore(const MagnetRotor& sun, double bore) {
  Gear gear;
  gear.sun = sun;
  gear.ring = arc_rotor(sun.pole_pairs, bore - 2 * mm, bore, AlternatingRadial{});
  gear.ring->magnet = "no magnet";
  gear.ring->iron = Iron{bore, bore + 5 * mm, ideal_iron_name};
  return gear;
}

}  // namespace

TEST_CASE("off centre: a magnetised rod in an iron bore is drawn as its image says",
          "[gears][force][analytic]") {
  // Outside a ring 10 … 20 mm magnetised across the field is a dipole's (Osborn 1945).
  const double remanence = 1.2, bore = 30 * mm;
  const double b_1 = remanence / 2 * (1 - 0.25);  // at 20 mm
  const double small = 1e-9;
  const double exact = dipole_pull_in_bore(b_1, 20 * mm, bore, small) / small;
  const FieldSolver solver =
      gear_solver(sun_in_bore(arc_rotor(1, 10 * mm, 20 * mm, AlternatingParallel{}), bore));
  const OffCentrePull pull = pull_at(solver, {.sun = 0.4});
  const Eigen::Matrix2d own = pull.gradient_of(Member::sun, Member::sun);
  INFO("closed form " << exact << ", computed " << own);
  CHECK(own(0, 0) == Approx(exact).epsilon(1e-3));  // mesh of the coarse ring
  CHECK(own(1, 1) == Approx(exact).epsilon(1e-3));
  CHECK(std::abs(own(0, 1)) < 1e-3 * exact);  // the same in all directions
  CHECK(pull.negative_stiffness(Member::sun) == Approx(exact).epsilon(1e-3));
  CHECK(pull.centred_on(Member::sun).norm() < 1e-6 * exact * mm);
}

TEST_CASE("off centre: the image closed form is the field of image charges summed",
          "[gears][force][analytic]") {
  // Force on two line charges ±s close together (a dipole along x at x = d) from their images in
  // the bore, R²/x each with the opposite sign, and 2D Coulomb forces (1/2πµ0) q q'/distance.
  const double bore = 30 * mm, d = 6 * mm, half = 1e-3 * mm, charge = 1.0;
  double force = 0.0;
  for (const double sign : {1.0, -1.0})
    for (const double image_of : {1.0, -1.0}) {
      const double at = d + sign * half, image = bore * bore / (d + image_of * half);
      force += sign * charge * (-image_of * charge) / (2 * pi * mu0) / (at - image);
    }
  const double moment_b = charge * 2 * half / (2 * pi);  // B_r r² on the axis of the dipole
  CHECK(dipole_pull_in_bore(moment_b / (bore * bore), bore, bore, d) ==
        Approx(force).epsilon(1e-5));
}

TEST_CASE("off centre: a wide pole over a thin gap pulls as Maxwell's pressure says",
          "[gears][force][analytic]") {
  // Ideal irons 29 and 31 mm, magnets 29 … 30, four pole pairs of continuous Halbach: B_r in the
  // gap is one order. Poles of 24 mm over a gap of 2 mm: the estimate leaves out curvature and what
  // flows from pole to pole, of order (p g/r)².
  MagnetRotor sun = arc_rotor(4, 29 * mm, 30 * mm, ContinuousHalbach{FluxSide::outward});
  sun.iron = Iron{0.0, 29 * mm, ideal_iron_name};
  Gear gear = sun_in_bore(sun, 31 * mm);
  gear.ring->inner_radius = 30.9 * mm;
  const FieldSolver solver = gear_solver(gear);
  const FieldSolution s = solver.solve({});
  const double b = order_amplitude(s.gaps[0], 30.5 * mm, 4)[0];
  const double estimate = pull_gradient_of_uniform_gap(30.5 * mm, 2 * mm, b);
  const double computed = pull_at(solver, {}).negative_stiffness(Member::sun);
  INFO("estimate " << estimate << ", computed " << computed << " N/m²");
  CHECK(computed == Approx(estimate).epsilon(0.1));
}

TEST_CASE("off centre: moving everything together changes nothing", "[gears][force]") {
  const FieldSolver solver =
      gear_solver(standard_gear(), {1.30, 1.05, peer_steel()}, Resolution{1.0, 64, 64});
  const OffCentrePull pull = pull_at(solver, {.sun = 20 * degree});
  const double size = pull.gradient.norm();
  for (int axis : {0, 1}) {
    Eigen::Matrix<double, 6, 1> together;
    for (int i = 0; i < 6; ++i) together[i] = i % 2 == axis ? 1.0 : 0.0;
    CHECK((pull.gradient * together).norm() < 1e-9 * size);              // of every member
    CHECK((together.transpose() * pull.gradient).norm() < 1e-9 * size);  // action and reaction
  }
  // Forces that follow from an energy: what A feels when B moves is what B feels when A moves.
  INFO(pull.gradient);
  CHECK((pull.gradient - pull.gradient.transpose()).norm() < 1e-9 * size);
}

TEST_CASE("off centre: a saturated gear agrees with an independent solution of the shifted sun",
          "[gears][force][peer]") {
  std::ifstream file(LODEGEAR_SOURCE_DIR "/tests/analytic/off_centre_fem.json");
  const json peer = json::parse(file);
  const FieldSolver solver = gear_solver(standard_gear(), {1.30, 1.05, peer_steel()});
  for (const json& p : peer["positions"]) {
    const OffCentrePull pull = pull_at(solver, {p["sun_angle_deg"].get<double>() * degree, 0, 0});
    const auto force = [&](double shift_mm, const char* gap) {
      for (const json& s : p["levels"].back()["shifts"])
        if (s["shift_x_mm"].get<double>() == shift_mm)
          return Eigen::Vector2d(s[gap][0].get<double>(), s[gap][1].get<double>());
      throw std::runtime_error("no such shift");
    };
    // Richardson: the pull is odd about the centre, its cubic part falls out.
    const auto slope = [&](const char* gap) {
      const Eigen::Vector2d near = force(0.05, gap) - force(-0.05, gap);
      const Eigen::Vector2d far = force(0.1, gap) - force(-0.1, gap);
      return Eigen::Vector2d((8 * near - far) / (6 * 0.1 * mm));
    };
    const Eigen::Vector2d sun = pull.gradient_of(Member::sun, Member::sun).col(0);
    const Eigen::Vector2d both = sun + pull.gradient_of(Member::modulator, Member::sun).col(0);
    const Eigen::Vector2d peer_sun = slope("force_inside_inner_gap_N_per_m");
    const Eigen::Vector2d peer_both = slope("force_inside_outer_gap_N_per_m");
    INFO("sun " << sun.transpose() << " against " << peer_sun.transpose() << "; sun and modulator "
                << both.transpose() << " against " << peer_both.transpose() << " N/m²");
    CHECK((sun - peer_sun).norm() < 2e-3 * peer_sun.norm());  // both codes' stress in the gap
    CHECK((both - peer_both).norm() < 2e-3 * peer_sun.norm());
    const Eigen::Vector2d centred = force(0.0, "force_inside_inner_gap_N_per_m");
    // The peer's own last refinement moves this small difference of large pulls by 0.8 N/m.
    CHECK((pull.centred_on(Member::sun) - centred).norm() < 5e-3 * centred.norm());
  }
}
