// tests/solver/efficiency_test.cpp — power balance and what follows from it. All losses invented.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "materials/constants.h"
#include "solver/post/efficiency.h"

using namespace lodegear;

namespace {

constexpr double rpm = 2 * pi / 60;

// A 4/21/17 gear of constant permeability: torque goes as sin δ, every loss as a + b cos δ.
GearLosses linear_gear(int rows) {
  GearLosses gear;
  gear.counts = {4, 21, 17};
  gear.relative_speed = 100.0;
  for (int i = 0; i < rows; ++i) {
    const double angle = rows > 1 ? 1.5 * i / (rows - 1) : 0.0;
    const double c = std::cos(angle);
    gear.loads.push_back({angle,
                          0.5 * std::sin(angle),
                          {{"modulator", 1.0 + 0.4 * c, 2.0 - 0.3 * c, 0.5},
                           {"sun magnets", 0.0, 0.7 + 0.2 * c, 0.0}}});
  }
  gear.friction = {
      Bearing{.sides = {TurnsWith::sun, TurnsWith::housing},
              .count = 2,
              .bore = 0.012,
              .load = 40,
              .seal_torque = 0.004},
      Bearing{.sides = {TurnsWith::modulator, TurnsWith::housing}, .seal_torque = 0.006},
      Bearing{.sides = {TurnsWith::ring, TurnsWith::housing}, .seal_torque = 0.008},
      GapWindage{.inner_radius = 0.03, .outer_radius = 0.031, .length = 0.05}};
  return gear;
}

}  // namespace

TEST_CASE("efficiency: input is output plus losses, and torques sum to zero, for all six drives",
          "[solver][efficiency]") {
  const GearLosses gear = linear_gear(3);
  for (const Drive& drive : all_drives())
    for (double speed : {-80.0, 30.0, 200.0})
      for (double load : {0.0, 0.3, 1.2}) {
        const auto point = operating_point(gear, drive, speed, load);
        REQUIRE(point);
        // Powers from torques and speeds on the shafts, losses part by part: another way round.
        const double in = point->input_torque * point->speeds.of(drive.input);
        const double out = -point->output_torque * point->speeds.of(drive.output);
        double lost = 0.0;
        for (const MagneticLoss& loss : point->magnetic) lost += loss.total();
        for (const FrictionLoss& loss : point->friction) lost += loss.power;
        CHECK(in == Approx(out + lost).epsilon(1e-12));  // round-off
        CHECK(out == Approx(load * std::abs(point->speeds.of(drive.output))));
        CHECK(point->input_torque + point->output_torque + point->ground_torque ==
              Approx(0.0).margin(1e-12));
        CHECK(point->efficiency >= 0.0);
        CHECK(point->efficiency < 1.0);
        CHECK(lost > 0.0);
      }
}

TEST_CASE("efficiency: without losses torques stand as p_s : -n : p_r", "[solver][efficiency]") {
  GearLosses gear = linear_gear(2);
  gear.friction.clear();
  for (SolvedLoad& row : gear.loads) row.losses.clear();
  for (const Drive& drive : all_drives()) {
    const auto point = operating_point(gear, drive, 50.0, 0.4);
    REQUIRE(point);
    CHECK(point->efficiency == Approx(1.0));
    const double unit = point->input_torque / electrical_factor(gear.counts, drive.input);
    CHECK(point->output_torque == Approx(unit * electrical_factor(gear.counts, drive.output)));
    CHECK(point->ground_torque == Approx(unit * electrical_factor(gear.counts, drive.held)));
    CHECK(std::sin(point->load_angle) == Approx(std::abs(unit) / 0.5));
  }
}

TEST_CASE("efficiency: one set of solved losses serves every drive at the same relative speed",
          "[solver][efficiency]") {
  const GearLosses gear = linear_gear(2);
  for (const Drive& drive : all_drives()) {
    // Scaled such that sun and modulator pass each other at 100 rad/s.
    const double unit = relative_speed(speeds_in_step(gear.counts, drive, 1.0));
    const auto point = operating_point(gear, drive, 100.0 / unit, 0.0);
    REQUIRE(point);
    const double c = std::cos(point->load_angle);
    CHECK(point->magnetic_loss == Approx(4.2 + 0.3 * c).epsilon(1e-12));
  }
}

TEST_CASE("efficiency: losses follow f, f^2 and f^1.5", "[solver][efficiency]") {
  const MagneticLoss twice = at_frequency({"part", 1.0, 1.0, 1.0}, 2.0);
  CHECK(twice.hysteresis == Approx(2.0));
  CHECK(twice.eddy == Approx(4.0));
  CHECK(twice.surface == Approx(2.8284271));
  const auto slow = no_load_drag(linear_gear(2), {}, 25.0);
  const auto fast = no_load_drag(linear_gear(2), {}, 100.0);
  REQUIRE(slow);
  REQUIRE(fast);
  CHECK(fast->hysteresis == Approx(slow->hysteresis));
  CHECK(fast->eddy == Approx(4 * slow->eddy));
  CHECK(fast->surface == Approx(2 * slow->surface));
}

TEST_CASE("efficiency: two solved loads are enough for a gear of constant permeability",
          "[solver][efficiency]") {
  const GearLosses two = linear_gear(2), many = linear_gear(9);
  for (double load : {0.0, 0.7, 3.0, 7.0}) {
    const auto a = operating_point(two, {}, 60.0, load), b = operating_point(many, {}, 60.0, load);
    REQUIRE(a);
    REQUIRE(b);
    CHECK(a->load_angle == Approx(b->load_angle).epsilon(1e-9));
    CHECK(a->magnetic_loss == Approx(b->magnetic_loss).epsilon(1e-9));
  }
}

TEST_CASE("efficiency: beyond the last solved load there is a hole, never a guess",
          "[solver][efficiency]") {
  const GearLosses gear = linear_gear(4);
  const double most = 17 * 0.5 * std::sin(1.5);  // on the ring, its bearing's 8 mN·m included
  CHECK(operating_point(gear, {}, 50.0, most - 0.0081));
  CHECK_FALSE(operating_point(gear, {}, 50.0, most - 0.0079));
  const EfficiencyMap map = efficiency_map(gear, {}, {10.0, 100.0}, {1.0, 4.0, 9.0});
  CHECK(map.points[1][1]->efficiency > map.points[0][1]->efficiency);
  CHECK_FALSE(map.points[2][0]);
  CHECK_FALSE(duty_mean(gear, {}, {{10, 50.0, 1.0}, {10, 50.0, 9.0}}));
}

TEST_CASE("efficiency: driven backwards the same gear needs its drag the other way round",
          "[solver][efficiency]") {
  const GearLosses gear = linear_gear(3);
  const auto forward = no_load_drag(gear, {Member::modulator, Member::sun, Member::ring}, 85.0);
  const auto backward = no_load_drag(gear, {Member::modulator, Member::ring, Member::sun}, 20.0);
  REQUIRE(forward);
  REQUIRE(backward);
  // The same speeds of all members: the same friction power, seen at the other shaft.
  CHECK(backward->friction * 20.0 == Approx(forward->friction * 85.0));
}

TEST_CASE("duty: means over a cycle weigh each interval by its time", "[solver][efficiency]") {
  const GearLosses gear = linear_gear(3);
  const auto work = operating_point(gear, {}, 120.0, 2.0),
             idle = operating_point(gear, {}, 40.0, 0);
  const auto mean = duty_mean(gear, {}, {{30, 120.0, 2.0}, {60, 40.0, 0.0}, {10, 0.0, 0.0}});
  REQUIRE(mean);
  CHECK(mean->loss == Approx(0.3 * (work->magnetic_loss + work->friction_loss) +
                             0.6 * (idle->magnetic_loss + idle->friction_loss)));
  CHECK(mean->input_power == Approx(mean->output_power + mean->loss));
  CHECK(mean->magnetic[0].eddy ==
        Approx(0.3 * work->magnetic[0].eddy + 0.6 * idle->magnetic[0].eddy));
  CHECK_FALSE(mean->points[2]);
}

TEST_CASE("speed limit: found where the analytic margin is zero", "[solver][efficiency]") {
  // One part with 0.25 W/K to ambient at 20 °C, limit 60 °C, loss 0.02 ω + 0.0003 ω²: 10 W at
  // ω = (−0.02 + √(0.0004 + 4·0.0003·10))/(2·0.0003) = 152.25881 rad/s.
  const auto margin = [](double w) -> std::optional<double> {
    return 60.0 - (20.0 + (0.02 * w + 0.0003 * w * w) / 0.25);
  };
  const SpeedLimit limit = highest_continuous_speed(margin, 1000.0);
  CHECK(limit.reached);
  CHECK(limit.input_speed == Approx(152.25881).epsilon(2e-6));
  CHECK_FALSE(highest_continuous_speed(margin, 100.0).reached);
  const auto never = [](double) -> std::optional<double> { return -1.0; };
  CHECK(highest_continuous_speed(never, 100.0).input_speed == 0.0);
  const auto slips = [](double w) { return w < 70 ? std::optional(5.0) : std::nullopt; };
  CHECK(highest_continuous_speed(slips, 100.0).input_speed == Approx(70.0).epsilon(2e-6));
}

TEST_CASE("efficiency: the trade's picture of a small gear", "[solver][efficiency]") {
  // Common practice, no source: at walking pace and good load a small laminated gear passes well
  // above nine tenths, and at light load its bearings' seals eat most of what is lost.
  const GearLosses gear = linear_gear(3);
  const auto loaded = operating_point(gear, {}, 300 * rpm, 4.5);
  REQUIRE(loaded);
  CHECK(loaded->efficiency > 0.9);
  const auto light = operating_point(gear, {}, 30 * rpm, 0.1);
  REQUIRE(light);
  CHECK(light->efficiency < 0.7);
}

TEST_CASE("efficiency: loads out of order are refused", "[solver][efficiency]") {
  GearLosses gear = linear_gear(3);
  std::swap(gear.loads[1], gear.loads[2]);
  CHECK_THROWS_AS(operating_point(gear, {}, 1.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(operating_point(linear_gear(2), {}, 0.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(operating_point(linear_gear(2), {}, 1.0, -1.0), std::invalid_argument);
}
