// tests/solver/demagnetisation_test.cpp — working points, lasting loss, and solving again with it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/demagnetisation.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/field/field_solver.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"
#include "tests/support/magnet_rod.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

// Round figures near a N42 magnet; α and β in 1/K.
MagnetMaterial round_figures() {
  MagnetMaterial magnet;
  magnet.remanence_min = magnet.remanence_max = 1.3;
  magnet.remanence_coefficient = -0.0012;
  magnet.mu_rec = 1.05;
  magnet.intrinsic_coercivity = 955e3;
  magnet.intrinsic_coefficient = -0.0070;
  magnet.working_temperature = 80.0;
  return magnet;
}

// Whether a triangle lies clear of the rod's axis, where the mesh has a hole of 1 µm.
bool clear_of_axis(const FieldMember& member, int triangle) {
  return member.mesh.nodes.row(member.mesh.triangles(triangle, 0)).norm() > 2e-3;
}

// Three parts with fields of their own, A/m; the last makes a tenth of the volume.
OpposingField three_parts(double first, double second, double third) {
  return {{0, 1, 2}, {0.5, 0.4, 0.1}, {1.3, 1.3, 1.3}, {first, second, third}};
}

}  // namespace

TEST_CASE("demagnetisation: a rod in air bears B_r/(µ0 (1 + µ_rec)) everywhere",
          "[solver][demagnetisation]") {
  // Uniform inside (textbook: a cylinder across its axis has the demagnetising factor 1/2).
  for (double mu_rec : {1.0, 1.05}) {
    const FieldSolver solver(magnet_rod(24, mu_rec, {0, 0}));
    FieldSolution s = solver.solve({});
    solver.fill_potentials(s);
    const FieldMember& member = solver.problem().members[0];
    OpposingField field = opposing_field(member);
    add_position(member, s.a[0], field);
    const double exact = 1.2 / (mu0 * (1 + mu_rec));
    double area = 0.0;
    for (std::size_t i = 0; i < field.h.size(); ++i) {
      if (clear_of_axis(member, field.triangle[i]))
        CHECK_THAT(field.h[i], WithinRel(exact, 1e-2));  // h/r = 1/24, order h² and the hole
      area += field.area[i];
    }
    CHECK_THAT(area, WithinRel(pi * 0.010 * 0.010, 1e-4));  // all but a hole of 1 µm is magnet
  }
}

TEST_CASE("demagnetisation: an applied field against the magnet adds to what it bears",
          "[solver][demagnetisation]") {
  // B inside = (B_r + 2 µ_rec B_0)/(1 + µ_rec); the worst of two positions is kept.
  const FieldSolver solver(magnet_rod(24, 1.05, {-0.3, 0.0}));
  const FieldMember& member = solver.problem().members[0];
  OpposingField field = opposing_field(member);
  for (double angle : {0.0, pi}) {  // against, then with the field
    FieldSolution s = solver.solve({.sun = angle});
    solver.fill_potentials(s);
    add_position(member, s.a[0], field);
  }
  const double b = (1.2 - 2 * 1.05 * 0.3) / 2.05, exact = (1.2 - b) / (1.05 * mu0);
  for (std::size_t i = 0; i < field.h.size(); ++i)
    if (clear_of_axis(member, field.triangle[i])) CHECK_THAT(field.h[i], WithinRel(exact, 1e-2));
}

TEST_CASE("demagnetisation: margin, volume and remanence of known fields",
          "[solver][demagnetisation]") {
  const MagnetMaterial magnet = round_figures();
  const double knee_h = 0.95 * 955e3;
  const auto good = demagnetisation(three_parts(0, 1e5, 0.5 * knee_h), magnet, 20, 20);
  REQUIRE(good);
  CHECK_THAT(good->margin, WithinRel(0.5, 1e-12));
  CHECK(good->volume_lost == 0.0);
  CHECK_THAT(good->remanence_left, WithinAbs(1.0, 1e-6));  // e^−… of the knee's exponential

  // At the knee itself J has fallen 5 % of B_r below the recoil line, which is what stays lost.
  const auto at_knee = demagnetisation(three_parts(0, 0, knee_h), magnet, 20, 20);
  CHECK_THAT(at_knee->margin, WithinAbs(0.0, 1e-12));
  CHECK_THAT(at_knee->remanence_left, WithinRel(1 - 0.1 * 0.05, 1e-9));
  CHECK(demagnetisation(three_parts(0, 0, 1.01 * knee_h), magnet, 20, 20)->volume_lost ==
        Approx(0.1));
}

TEST_CASE("demagnetisation: the temperature of 1 % loss by hand", "[solver][demagnetisation]") {
  // h (1 + α Δ) = 0.95 HcJ (1 + β Δ), a line on both sides below the working temperature.
  const MagnetMaterial magnet = round_figures();
  const double h = 600e3, knee_h = 0.95 * 955e3;
  const double rise = (knee_h - h) / (knee_h * 0.0070 - h * 0.0012);
  const auto safe = safe_temperatures(three_parts(0, 0, h), magnet, 20);
  REQUIRE(safe);
  REQUIRE(safe->highest);
  CHECK_FALSE(safe->none);
  CHECK_FALSE(safe->lowest);
  CHECK_THAT(*safe->highest, WithinAbs(20 + rise, 1e-6));  // 40 halvings of 330 K
  CHECK(safe_temperatures(three_parts(0, 0, 1.1 * knee_h), magnet, 20)->none);
  // Solved at 60 °C the same magnets show less field; the limit is the same.
  const auto warm = safe_temperatures(three_parts(0, 0, h * (1 - 0.0012 * 40)), magnet, 60);
  CHECK_THAT(*warm->highest, WithinAbs(20 + rise, 1e-6));

  const double needed = coercivity_needed(three_parts(0, 0, h), magnet, 20, 60, 0.1);
  CHECK_THAT(needed * 0.95 * (1 - 0.0070 * 40) * 0.9, WithinRel(h * (1 - 0.0012 * 40), 1e-12));
}

TEST_CASE("demagnetisation: ferrite fears the cold", "[solver][demagnetisation]") {
  MagnetMaterial ferrite = round_figures();
  ferrite.remanence_min = ferrite.remanence_max = 0.39;
  ferrite.remanence_coefficient = -0.002;
  ferrite.intrinsic_coercivity = 200e3;
  ferrite.intrinsic_coefficient = 0.0035;
  ferrite.working_temperature = 250.0;
  const auto safe = safe_temperatures(three_parts(0, 0, 160e3), ferrite, 20);
  REQUIRE(safe->lowest);
  CHECK_FALSE(safe->highest);
  // 160 (1 − 0.002 Δ) = 190 (1 + 0.0035 Δ)
  CHECK_THAT(*safe->lowest, WithinAbs(20 - 30.0 / (190 * 0.0035 + 160 * 0.002), 1e-6));
}

TEST_CASE("demagnetisation: weakened magnets are solved with, on both paths",
          "[solver][demagnetisation]") {
  // Linear steel: with half the remanence in one rotor the torque between the rotors halves.
  const FieldProblem whole = gear_solver(standard_gear(), {}, {0.5, 24, 24}).problem();
  FieldProblem half = whole;
  half.members[2].weakened.assign(static_cast<std::size_t>(half.members[2].mesh.triangles.rows()),
                                  0.5);
  for (const SolverPathChoice path : {SolverPathChoice::fast, SolverPathChoice::reference}) {
    SolverOptions options;
    options.path = path;
    const Position at{.sun = 0.2};
    const double before = FieldSolver(whole, options).solve(at).torque_ring;
    const double after = FieldSolver(half, options).solve(at).torque_ring;
    // The ring's pull on the steel alone, a quarter as strong, makes the rest: LCM(26, 17) is high.
    CHECK_THAT(after, WithinRel(0.5 * before, 1e-3));
  }
}

TEST_CASE("demagnetisation: a gear at slip bears more than at rest", "[solver][demagnetisation]") {
  const FieldSolver solver = gear_solver(standard_gear(), {}, {0.5, 24, 24});
  const FieldMember& ring = solver.problem().members[2];
  const auto worst = [&](double sun_angle) {
    FieldSolution s = solver.solve({.sun = sun_angle});
    solver.fill_potentials(s);
    OpposingField field = opposing_field(ring);
    add_position(ring, s.a[2], field);
    return *std::max_element(field.h.begin(), field.h.end());
  };
  // At load angle 180° like poles face each other.
  CHECK(worst(pi / 4) > worst(0.0));
}
