// tests/gears/trade_facts_test.cpp — facts of the trade. Common practice, no source.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/motion/kinematics.h"
#include "solver/motion/positions.h"
#include "solver/motion/sweep.h"
#include "solver/motion/torque_curve.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;

namespace {

// 3/17/14 with an 18-magnet sun; dimensions invented.
Gear eighteen_magnets(bool halbach, bool steel_hub) {
  Gear gear;
  gear.sun = arc_rotor(3, 22 * mm, 30 * mm,
                       halbach ? MagnetPattern(SteppedHalbach{6, FluxSide::outward})
                               : MagnetPattern(AlternatingParallel{}));
  if (!halbach) {  // three equal magnets side by side make one pole
    DirectionList list;
    list.magnets_per_pole_pair = 6;
    // The pole's middle magnet is magnet 0; its neighbours belong to the same pole.
    list.directions = {0, 0, pi, pi, pi, 0};
    gear.sun->pattern = list;
  }
  if (steel_hub) gear.sun->iron = Iron{0.0, 22 * mm, "steel"};
  gear.modulator = sectors(17, 31 * mm, 37 * mm);
  gear.ring = arc_rotor(14, 38 * mm, 44 * mm, AlternatingRadial{});
  gear.ring->iron = Iron{44 * mm, 50 * mm, "steel"};
  return gear;
}

double slip_torque(const Gear& gear) {
  const FieldSolver solver = gear_solver(gear, {1.30, 1.05, peer_steel()}, {0.7, 64, 64});
  std::vector<double> torque;
  for (const FieldSolution& s : sweep_curve(solver, slip_positions({3, 17, 14}, Member::sun, 16)))
    torque.push_back(s.torque_modulator);
  return maximum(PeriodicCurve(torque)).value;
}

}  // namespace

TEST_CASE(
    "trade facts: 3/17/14 turns 17/3 with the ring held and 14/3 the other way with the "
    "modulator held",
    "[gears][trade]") {
  for (const SpeedRatio& ratio : speed_ratios({3, 17, 14})) {
    if (ratio.held == Member::ring) CHECK(ratio.input_over_output == Approx(17.0 / 3.0));
    if (ratio.held == Member::modulator) CHECK(ratio.input_over_output == Approx(-14.0 / 3.0));
  }
  // and always one less
  CHECK(17.0 / 3.0 - 14.0 / 3.0 == Approx(1.0));
}

TEST_CASE(
    "trade facts: on a non-magnetic hub Halbach raises slip torque by 30 to 60 %, on steel "
    "only little",
    "[gears][trade][slow]") {
  const double in_air =
      slip_torque(eighteen_magnets(true, false)) / slip_torque(eighteen_magnets(false, false));
  const double on_steel =
      slip_torque(eighteen_magnets(true, true)) / slip_torque(eighteen_magnets(false, true));
  INFO("non-magnetic hub " << in_air << ", steel hub " << on_steel);
  CHECK(in_air > 1.30);  // 42 % was measured
  CHECK(in_air < 1.60);
  CHECK(on_steel < 1.15);
}

TEST_CASE("trade facts: cogging of such a gear stays below 1 % of slip torque",
          "[gears][trade][slow]") {
  const Gear gear = eighteen_magnets(true, false);
  const FieldSolver solver = gear_solver(gear, {1.30, 1.05, peer_steel()}, {1.0, 120, 120});
  const PoleCounts counts{3, 17, 14};
  const double turn = 2 * pi / ripples_per_turn(counts, true);
  std::vector<double> sun;
  for (const FieldSolution& s :
       sweep_curve(solver, running_positions(counts, Member::modulator, 0.0, turn, 8)))
    sun.push_back(s.torque_sun);
  const double slip = std::abs(solver.solve({.sun = pi / 2 / 3}).torque_sun);
  INFO("cogging " << ripple(sun).peak_to_peak << " of " << slip << " N·m/m");
  CHECK(ripple(sun).peak_to_peak < 0.01 * slip);
}
