// tests/solver/mechanics_test.cpp — bars, shafts, bearings and what is left of a clearance.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/mechanics.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "materials/constants.h"
#include "solver/post/clearance.h"
#include "tests/mesh/gears.h"

using namespace lodegear;

namespace {

// ∫ over 0 … 1, Simpson.
template <typename F>
double integral(F f) {
  const int n = 2000;
  double sum = f(0.0) + f(1.0);
  for (int i = 1; i < n; ++i) sum += (i % 2 ? 4 : 2) * f(static_cast<double>(i) / n);
  return sum / (3 * n);
}

}  // namespace

TEST_CASE("mechanics: beam deflections are what virtual forces give", "[solver][mechanics]") {
  // δ = ∫ M m/(EI) dx with m of a unit force in any way in balance with it (Roark, ch. 6); all for
  // q = l = EI = 1.
  const auto unit_in_middle = [](double x) { return x < 0.5 ? x / 2 : (1 - x) / 2; };
  const double supported = integral([&](double x) { return x * (1 - x) / 2 * unit_in_middle(x); });
  const double clamped =
      integral([&](double x) { return (6 * x - 1 - 6 * x * x) / 12 * unit_in_middle(x); });
  const double cantilever = integral([](double x) { return std::pow(1 - x, 3) / 2; });
  CHECK(beam_deflection(Ends::supported, 1, 1, 1) == Approx(supported).epsilon(1e-6));
  CHECK(beam_deflection(Ends::clamped, 1, 1, 1) == Approx(clamped).epsilon(1e-6));
  CHECK(beam_deflection(Ends::cantilever, 1, 1, 1) == Approx(cantilever).epsilon(1e-6));
  CHECK(beam_moment(Ends::clamped, 1, 1) == Approx(1.0 / 12));  // |M| above at x = 0
  // A load in N/m, a length and a stiffness come in as q l⁴/EI.
  CHECK(beam_deflection(Ends::clamped, 3, 2, 5) ==
        Approx(beam_deflection(Ends::clamped, 1, 1, 1) * 3 * 16 / 5));
}

TEST_CASE("mechanics: a solid pole piece hardly bends, loose sheets need a rod",
          "[solver][mechanics]") {
  PoleBar bar;  // 8 × 8 × 50 mm of steel under 50 kPa
  bar.length = 50 * mm;
  bar.width = bar.height = 8 * mm;
  bar.youngs_modulus = 210e9;
  const double load = 50e3 * 8 * mm;
  // 5 · 400 · 0.05⁴ / (384 · 210e9 · 0.008⁴/12) = 4.54e-7 m, by hand.
  CHECK(deflection(bar, load) == Approx(4.54e-7).epsilon(2e-3));
  bar.bonded = false;
  CHECK(std::isinf(deflection(bar, load)));
  CHECK(deflection(bar, 0.0) == 0.0);
  bar.rod = CarryingRod{3 * mm, 190e9};
  CHECK(deflection(bar, load) ==
        Approx(5 * load * std::pow(0.05, 4) / 384 / (190e9 * pi * std::pow(3e-3, 4) / 64)));
  PoleBar both = bar;
  both.bonded = true;
  CHECK(bending_stiffness(both) == Approx(bending_stiffness(bar) + 210e9 * std::pow(8e-3, 4) / 12));
}

TEST_CASE("mechanics: webs and rings", "[solver][mechanics]") {
  // Two webs each bend like a beam whose end moves without turning: M = V (s/2 − x), δ = ∫ M²/(EI
  // V).
  const double s = 6 * mm, t = 0.5 * mm, e = 200e9, inertia = t * t * t / 12;
  const double per_web = s * s * s * integral([](double x) { return (0.5 - x) * (0.5 - x); });
  CHECK(web_deflection(400.0, s, t, e) == Approx(200.0 * per_web / (e * inertia)));
  // Hoop stress p r/t over E times r.
  CHECK(ring_growth(1e5, 40 * mm, 2 * mm, e) == Approx(1e5 * 0.04 / 0.002 / e * 0.04));
}

TEST_CASE("mechanics: a member off centre settles, or snaps over", "[solver][mechanics]") {
  // k x = pull + k_m (e + x).
  const double x = *settled_displacement(10.0, 1e-4, 4e5, 1e5);
  CHECK(4e5 * x == Approx(10.0 + 1e5 * (1e-4 + x)));
  CHECK_FALSE(settled_displacement(10.0, 1e-4, 1e5, 1e5));
}

TEST_CASE("mechanics: shafts, keys and bearings", "[solver][mechanics]") {
  const Shaft solid{10 * mm, 0.0};
  CHECK(torsion_stress(solid, 5.9) == Approx(16 * 5.9 / (pi * 1e-6)));
  CHECK(torsion_stress(solid, 5.9) == Approx(30e6).epsilon(0.01));
  CHECK(torsion_stress({10 * mm, 6 * mm}, 1.0) > torsion_stress(solid, 1.0));
  // Twist is stress/G/(d/2) a metre.
  CHECK(torsion_twist(solid, 5.9, 0.2, 26e9) ==
        Approx(torsion_stress(solid, 5.9) / 26e9 / 5e-3 * 0.2));
  const Key key{4 * mm, 4 * mm, 2.5 * mm, 15 * mm};         // in a 12 mm shaft
  CHECK(key_pressure(key, 12 * mm, 3.96) == Approx(40e6));  // 3.96 = 40e6 · 6 · 11 · 1.5e-9
  CHECK(key_shear(key, 12 * mm, 3.96) == Approx(3.96 / (6e-3 * 11e-3 * 4e-3)));
  CHECK(bearing_life(Rolling::balls, 1000, 100) == Approx(1e9));
  CHECK(bearing_life(Rolling::rollers, 1000, 1000) == Approx(1e6));
  CHECK(bearing_life_time(Rolling::balls, 1000, 1000, -2 * pi) == Approx(1e6));
}

TEST_CASE("clearance: worst case and root of squares", "[solver][clearance]") {
  ClearanceBudget budget;
  budget.name = "by hand";
  budget.nominal = 1.0 * mm;
  budget.losses = {{"warming", 0.1 * mm, "computed", true},
                   {"play", 0.3 * mm, "guess", false},
                   {"roundness", 0.4 * mm, "guess", false}};
  CHECK(budget.worst_case() == Approx(0.2 * mm));
  CHECK(budget.likely() == Approx(0.4 * mm));  // 1 − 0.1 − √(0.09 + 0.16)
  CHECK_FALSE(budget.may_rub());
  budget.losses.push_back({"glue", 0.25 * mm, "guess", false});
  CHECK(budget.may_rub());
  CHECK_FALSE(budget.likely_rubs());
  CHECK(budget.ranked().front().name == "roundness");
}

TEST_CASE("clearance: growth and flat faces", "[solver][clearance]") {
  // A plastic cage of 40 mm radius that warms by 20 K, 75e-6 a kelvin, in a ring that stays cold.
  const GapLoss growth = thermal_growth(40 * mm, 75e-6, 20, 41 * mm, 12e-6, 0);
  CHECK(growth.value == Approx(0.06 * mm));
  CHECK(growth.certain);
  CHECK(thermal_growth(40 * mm, 12e-6, 0, 41 * mm, 12e-6, 20).value < 0);  // gives room
  const double sagitta = flat_face_sagitta(30 * mm, 10 * mm);
  CHECK(std::pow(30 * mm - sagitta, 2) + std::pow(5 * mm, 2) == Approx(std::pow(30 * mm, 2)));
  CHECK(sagitta == Approx(0.42 * mm).epsilon(0.01));
}

TEST_CASE("clearance: one budget for every place where something runs", "[solver][clearance]") {
  ClearanceInput input;
  input.sun = usual_tolerances(Member::sun, Making::machined);
  input.modulator = usual_tolerances(Member::modulator, Making::printed);
  input.ring = usual_tolerances(Member::ring, Making::machined);
  input.sleeves = {{"wall", 0.1 * mm, "guess", false}};
  Gear gear = standard_gear();
  std::vector<ClearanceBudget> budgets = clearance_budgets(gear, input);
  REQUIRE(budgets.size() == 2);
  CHECK(budgets[0].name == "sun to modulator");
  CHECK(budgets[0].nominal == Approx(1.0 * mm));
  CHECK(budgets[0].losses.size() == 9);
  CHECK(budgets[0].worst_case() ==
        Approx((1.0 - 0.02 - 0.03 - 0.02 - 0.05 - 0.02 - 0.1 - 0.02 - 0.03 - 0.3) * mm));
  // A can in the inner gap at rest, a bandage on the ring.
  gear.sleeves = {{Gap::inner, 30.4 * mm, 30.6 * mm, "plastic", TurnsWith::housing},
                  {Gap::outer, 37.7 * mm, 38 * mm, "bandage", TurnsWith::ring}};
  budgets = clearance_budgets(gear, input);
  REQUIRE(budgets.size() == 3);
  CHECK(budgets[0].name == "sun to sleeve");
  CHECK(budgets[0].nominal == Approx(0.4 * mm));
  CHECK(budgets[1].name == "sleeve to modulator");
  CHECK(budgets[2].name == "modulator to sleeve");
  CHECK(budgets[2].nominal == Approx(0.7 * mm));
  CHECK(budgets[2].losses.size() == 3 + 1 + 6);  // the bandage runs out with the ring
  CHECK(budgets[1].may_rub());
  CHECK(tightest(budgets)->name == "sleeve to modulator");
}
