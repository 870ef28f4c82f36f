// tests/solver/friction_test.cpp — drag of bearings, seals and air against formulas and limits.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "materials/constants.h"
#include "solver/post/friction.h"

using namespace lodegear;

namespace {

constexpr double rpm = 2 * pi / 60;
const Fluid thin_oil{.density = 850, .viscosity = 0.02, .conductivity = 0.13, .prandtl = 300};

}  // namespace

TEST_CASE("drive: in step the held member rests and the load angle stays, for all six choices",
          "[solver][motion][drive]") {
  const PoleCounts counts{4, 21, 17};
  for (const Drive& drive : all_drives()) {
    const MemberSpeeds w = speeds_in_step(counts, drive, 3.0);
    CHECK(w.of(drive.held) == 0.0);
    CHECK(w.of(drive.input) == 3.0);
    CHECK(w.of(drive.output) != 0.0);
    CHECK(4 * w.sun + 17 * w.ring == Approx(21 * w.modulator).margin(1e-12));  // round-off
  }
  CHECK(speeds_in_step(counts, {Member::ring, Member::sun, Member::modulator}, 21.0).modulator ==
        Approx(4.0));
  CHECK_THROWS_AS(speeds_in_step(counts, {Member::ring, Member::ring, Member::sun}, 1.0),
                  std::invalid_argument);
}

TEST_CASE("friction: a loaded ball bearing drags mu P d/2, its seals besides, at any speed",
          "[solver][friction]") {
  // By hand: 0.0015 · 1000 N · 20 mm / 2 = 15 mN·m; with 10 mN·m of seals 25 mN·m each; two of them
  // at 3000 rpm 50 mN·m · 314.16 rad/s = 15.71 W.
  const Bearing bearing{.sides = {TurnsWith::sun, TurnsWith::housing},
                        .count = 2,
                        .bore = 0.020,
                        .load = 1000,
                        .seal_torque = 0.010};
  const auto fast = friction_losses({bearing}, {3000 * rpm, 0, 0});
  CHECK(fast[0].torque_on_one == Approx(-0.050));
  CHECK(fast[0].power == Approx(15.708).epsilon(1e-4));
  CHECK(torque_on(Member::sun, fast) == Approx(-0.050));
  const auto slow = friction_losses({bearing}, {-1 * rpm, 0, 0});
  CHECK(slow[0].torque_on_one == Approx(+0.050));
  CHECK(total_power(friction_losses({bearing}, {})) == 0.0);
}

TEST_CASE("friction: what drags on one side drives the other, and all power is heat",
          "[solver][friction]") {
  const std::vector<FrictionPart> parts = {
      Bearing{.sides = {TurnsWith::sun, TurnsWith::modulator}, .bore = 0.01, .load = 50},
      ShaftSeal{.sides = {TurnsWith::modulator, TurnsWith::housing}, .shaft_diameter = 0.015},
      GapWindage{.inner_radius = 0.03, .outer_radius = 0.031, .length = 0.05},
      OpenCylinderWindage{.radius = 0.05, .length = 0.05},
      DiscWindage{.sides = {TurnsWith::ring, TurnsWith::housing}, .outer_radius = 0.05}};
  for (const Drive& drive : all_drives()) {
    const MemberSpeeds w = speeds_in_step({4, 21, 17}, drive, 150.0);
    const auto losses = friction_losses(parts, w);
    double delivered = 0.0;
    for (Member m : {Member::sun, Member::modulator, Member::ring})
      delivered += torque_on(m, losses) * w.of(m);
    for (const FrictionLoss& loss : losses) CHECK(loss.power >= 0.0);
    CHECK(delivered == Approx(-total_power(losses)).epsilon(1e-12));  // round-off
    CHECK(total_power(losses) > 0.0);
  }
}

TEST_CASE(
    "windage: slow shear between cylinders is the exact solution, from narrow to endless gaps",
    "[solver][friction]") {
  // Narrow gap: plane shear, M = 2π η r³ L ω/g, half a gap off in the radius.
  const GapWindage narrow{
      .inner_radius = 0.03, .outer_radius = 0.03003, .length = 0.05, .fluid = thin_oil};
  const double plane = 2 * pi * 0.02 * std::pow(0.030015, 3) * 0.05 * 1.0 / 3e-5;
  CHECK(gap_windage_torque(narrow, 1.0, 0.0) == Approx(plane).epsilon(1e-5));  // (g/r)²
  // Endless gap: a cylinder in the open.
  const GapWindage wide{
      .inner_radius = 0.01, .outer_radius = 100, .length = 0.05, .fluid = thin_oil};
  const OpenCylinderWindage open{.radius = 0.01, .length = 0.05, .fluid = thin_oil};
  CHECK(gap_windage_torque(wide, 0.0, 0.01) == Approx(open_cylinder_torque(open, 0.01)));
  CHECK(open_cylinder_torque(open, 0.01) == Approx(4 * pi * 0.02 * 0.05 * 1e-4 * 0.01));
}

TEST_CASE("windage: where the outer side turns faster the flow stays laminar",
          "[solver][friction]") {
  const GapWindage gap{.inner_radius = 0.03, .outer_radius = 0.0315, .length = 0.05};
  const double w = 3000 * rpm;
  const double outer = gap_windage_torque(gap, 0.0, w), inner = gap_windage_torque(gap, w, 0.0);
  CHECK(outer == Approx(w / 10 * gap_windage_torque(gap, 0.0, 10.0)));  // ∝ ω
  CHECK(inner > 1.5 * outer);                                           // vortices: Ta is 186 there
}

TEST_CASE("windage: one face of a slow disc follows Karman's wall slope", "[solver][friction]") {
  // Independent of the coefficient 3.87: the tangential wall slope of Kármán's flow is 0.6159
  // (Schlichting, Boundary-Layer Theory, ch. 5, from memory), M = π/2 · 0.6159 ρ R⁴ √(ν ω³).
  const DiscWindage disc{.sides = {TurnsWith::sun, TurnsWith::housing}, .outer_radius = 0.05};
  const double w = 100, nu = disc.fluid.kinematic_viscosity();
  const double expected =
      pi / 2 * 0.6159 * disc.fluid.density * std::pow(0.05, 4) * std::sqrt(nu * w * w * w);
  CHECK(disc_windage_torque(disc, w) == Approx(expected).epsilon(0.002));  // 3.87 has three digits
  // Near a wall a thin film is sheared: M = π η R⁴ ω/(2 s).
  const DiscWindage close{.outer_radius = 0.05, .wall_distance = 5e-4, .fluid = thin_oil};
  CHECK(disc_windage_torque(close, 1.0) == Approx(pi * 0.02 * 6.25e-6 / (2 * 5e-4)));
}

TEST_CASE("windage: fits to measurements, by hand from (theory 11.4) to (11.6)",
          "[solver][friction]") {
  // Guards against slips in copying the fits; nothing measured is at hand. ρ 1, ν 1e-5, lengths 1.
  const Fluid fluid{.density = 1, .viscosity = 1e-5, .conductivity = 0, .prandtl = 0};
  // Gap 0.1 to 0.11: Re = 100 ω, M = ½ C π ω² 1e-4, C = 0.50119 times the fit.
  const GapWindage gap{.inner_radius = 0.1, .outer_radius = 0.11, .length = 1, .fluid = fluid};
  const auto gap_fit = [&](double w) {
    return gap_windage_torque(gap, w, 0.0) / (0.5 * pi * w * w * 1e-4) / 0.50119;
  };
  CHECK(gap_fit(2.0) == Approx(0.08326).epsilon(2e-4));     // 2 · 200^−0.6
  CHECK(gap_fit(10.0) == Approx(0.03257).epsilon(2e-4));    // 1.03 · 1000^−0.5
  CHECK(gap_fit(200.0) == Approx(0.008969).epsilon(2e-4));  // 0.065 · 20000^−0.2
  // Cylinder of 0.1 at 100 rad/s, Re 1e5: 14.967 = −0.6 + 4.07 lg(1e5/14.967), c = 0.004464.
  const OpenCylinderWindage open{.radius = 0.1, .length = 1, .fluid = fluid};
  CHECK(open_cylinder_torque(open, 100) == Approx(0.004464 * 50 * 2 * pi * 0.01).epsilon(2e-4));
  // Discs of radius 1, Re = 1e5 ω: four times M/ω² is C.
  const auto disc_fit = [&](double distance, double w) {
    return 4 *
           disc_windage_torque({.outer_radius = 1, .wall_distance = distance, .fluid = fluid}, w) /
           (w * w);
  };
  CHECK(disc_fit(0.0, 10.0) == Approx(0.009212).epsilon(2e-4));  // 0.146 · 1e6^−0.2
  CHECK(disc_fit(0.1, 10.0) == Approx(0.005112).epsilon(2e-4));  // 0.102 · 0.1^0.1 · 1e6^−0.2
  CHECK(disc_fit(0.1, 0.1) == Approx(0.029390).epsilon(2e-4));   // 3.70 · 0.1^0.1 · 1e4^−0.5
  CHECK(disc_fit(0.01, 1.0) == Approx(0.009692).epsilon(2e-4));  // 0.080 · 0.01^−⅙ · 1e5^−¼
}

TEST_CASE("windage: drag is a continuous, rising function of speed", "[solver][friction]") {
  const GapWindage gap{.inner_radius = 0.03, .outer_radius = 0.031, .length = 0.05};
  const OpenCylinderWindage open{.radius = 0.05, .length = 0.05};
  const DiscWindage disc{.outer_radius = 0.05}, close{.outer_radius = 0.05, .wall_distance = 0.003};
  double last[4] = {};
  for (double w = 1.0; w < 2e4; w *= 1.001) {
    const double now[4] = {gap_windage_torque(gap, w, 0.0), open_cylinder_torque(open, w),
                           disc_windage_torque(disc, w), disc_windage_torque(close, w)};
    if (w > 1.0)
      for (int i = 0; i < 4; ++i) {
        CHECK(now[i] > last[i]);
        CHECK(now[i] < last[i] * 1.0025);  // no faster than ω² in a step of 0.1 %
      }
    std::copy(now, now + 4, last);
  }
}

TEST_CASE("windage: at hobby speeds it is small beside the seals of one bearing",
          "[solver][friction]") {
  // Common practice, no source. A rotor of 60 mm, 50 mm long, 1 mm gap, 1500 rpm, in air.
  const GapWindage gap{.inner_radius = 0.03, .outer_radius = 0.031, .length = 0.05};
  const DiscWindage ends{
      .sides = {TurnsWith::sun, TurnsWith::housing}, .faces = 2, .outer_radius = 0.03};
  const auto air = friction_losses({gap, ends}, {1500 * rpm, 0, 0});
  const double seals = usual_rubbing_seals * 1500 * rpm;
  CHECK(total_power(air) < 0.1 * seals);
  CHECK(total_power(air) > 1e-4 * seals);
}

TEST_CASE("friction: impossible data is refused by name", "[solver][friction]") {
  const GapWindage gap{.name = "inner gap", .inner_radius = 0.03, .outer_radius = 0.03};
  CHECK_THROWS_WITH(friction_losses({gap}, {}), Catch::Matchers::Contains("inner gap"));
  CHECK_THROWS_AS(friction_losses({Bearing{.load = -1}}, {}), std::invalid_argument);
}

TEST_CASE("air: its properties are those of tables", "[solver][heat][air]") {
  // Incropera, DeWitt, Fundamentals of Heat and Mass Transfer, table A.4 at 300 K and 350 K (from
  // memory): ρ 1.1614, 0.9950 kg/m³; ν 15.89e-6, 20.92e-6 m²/s; k 26.3e-3, 30.0e-3; Pr 0.707,
  // 0.700.
  const Fluid a = air_at(26.85), b = air_at(76.85);
  CHECK(a.density == Approx(1.1614).epsilon(0.02));
  CHECK(a.kinematic_viscosity() == Approx(15.89e-6).epsilon(0.02));
  CHECK(a.conductivity == Approx(26.3e-3).epsilon(0.02));
  CHECK(a.prandtl == Approx(0.707).epsilon(0.02));
  CHECK(b.kinematic_viscosity() == Approx(20.92e-6).epsilon(0.02));
  CHECK(b.conductivity == Approx(30.0e-3).epsilon(0.02));
}
