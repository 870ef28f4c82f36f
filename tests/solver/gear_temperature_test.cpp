// tests/solver/gear_temperature_test.cpp — temperatures of whole gears. Geometry and losses are
// invented. SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "materials/catalogue.h"
#include "materials/constants.h"
#include "materials/input_error.h"
#include "solver/post/gear_temperature.h"

using namespace lodegear;
using Catch::Matchers::Contains;
using Eigen::VectorXd;

namespace {

constexpr double rpm = 2 * pi / 60;

const Catalogue& built_in() {
  static const Catalogue catalogue;
  return catalogue;
}
HeatMaterial other(const char* name) { return heat_material(built_in().other(name)); }
HeatMaterial magnet(const char* name) { return heat_material(built_in().magnet(name)); }
HeatMaterial steel(const char* name) { return heat_material(built_in().steel(name)); }

// Printed, open, hand-turned: steel shaft, printed hub, blocks, laminated pole pieces in PETG.
GearThermal printed_gear() {
  GearThermal gear;
  gear.stack_length = 0.040;
  gear.shaft = ThermalPart{.outer_radius = 0.006, .material = steel("S235")};
  gear.sun_hub =
      ThermalPart{.inner_radius = 0.006, .outer_radius = 0.020, .material = other("PETG")};
  gear.sun_magnets = {.inner_radius = 0.020,
                      .outer_radius = 0.025,
                      .material = magnet("N42"),
                      .share = 0.9,
                      .filler = other("PETG")};
  gear.modulator = {.inner_radius = 0.026,
                    .outer_radius = 0.033,
                    .material = steel("M400-50A"),
                    .share = 0.5,
                    .filler = other("PETG")};
  gear.ring_magnets = {.inner_radius = 0.034,
                       .outer_radius = 0.039,
                       .material = magnet("N42"),
                       .share = 0.9,
                       .filler = other("PETG")};
  gear.ring_body =
      ThermalPart{.inner_radius = 0.039, .outer_radius = 0.048, .material = other("PETG")};
  gear.shaft_overhang = 0.04;
  gear.speeds =
      speeds_in_step({4, 17, 13}, {Member::ring, Member::sun, Member::modulator}, 4 * rpm);
  gear.losses.modulator = 0.8;
  gear.losses.sun_magnets = 0.2;
  gear.losses.ring_magnets = 0.4;
  gear.losses.bearings = 1.0;
  return gear;
}

// Closed: aluminium housing and caps, a sealing wall in the outer gap, steel back iron, 1500 rpm.
GearThermal closed_gear() {
  GearThermal gear = printed_gear();
  gear.sun_hub->material = steel("S235");
  gear.ring_body->material = steel("S235");
  gear.outer_wall = ThermalPart{
      .inner_radius = 0.0335, .outer_radius = 0.034, .material = other("stainless-316")};
  gear.ring_magnets.inner_radius = 0.0345;
  gear.housing = ThermalPart{.inner_radius = 0.049,
                             .outer_radius = 0.053,
                             .material = other("aluminium-6082-T6"),
                             .length = 0.060};
  gear.end_caps =
      EndCaps{.thickness = 0.004, .radius = 0.053, .material = other("aluminium-6082-T6")};
  gear.emissivity = anodised;
  gear.speeds =
      speeds_in_step({4, 17, 13}, {Member::modulator, Member::sun, Member::ring}, 1500 * rpm);
  gear.losses.outer_wall = 3.0;
  gear.losses.inner_gap_windage = 0.1;
  gear.losses.outer_gap_windage = 0.02;
  return gear;
}

}  // namespace

TEST_CASE("gear temperature: what is lost inside arrives outside", "[solver][thermal][gear]") {
  for (const GearThermal& gear : {printed_gear(), closed_gear()}) {
    const GearTemperatures t = gear_temperatures(gear);
    CHECK(t.converged);
    CHECK(t.heat_in == Approx(gear.losses.total()).epsilon(1e-12));
    CHECK(t.heat_out == Approx(t.heat_in).epsilon(1e-10));
    CHECK(t.steady.minCoeff() == Approx(20.0));
    for (Eigen::Index i = 0; i < t.time_constants.size(); ++i) CHECK(t.time_constants[i] > 0);
  }
}

TEST_CASE("gear temperature: without losses everything stays at ambient",
          "[solver][thermal][gear]") {
  GearThermal gear = closed_gear();
  gear.losses = {};
  gear.ambient = 31.0;
  const GearTemperatures t = gear_temperatures(gear, {600.0});
  CHECK((t.steady.array() - 31.0).abs().maxCoeff() < 1e-9);
  CHECK((t.heating.temperatures[0].array() - 31.0).abs().maxCoeff() < 1e-9);
}

TEST_CASE("gear temperature: one part after the other, by hand", "[solver][thermal][gear]") {
  // All heat made in the ring body of an open gear with every path outwards but one, and the round
  // trip by the bearings, cut off: its rise over ambient is P/G of that path and half of its own
  // shell, and every other part is as warm as it is.
  GearThermal gear = printed_gear();
  gear.losses = {};
  gear.losses.ring_body = 2.0;
  for (const HeatFlow& flow : gear_temperatures(gear).flows)
    if (flow.name.find("ambient") != std::string::npos || flow.name.ends_with("bearings"))
      gear.measured_conductances[flow.name] = 1e-12;
  gear.measured_conductances["ring body to ambient, air"] = 0.1;
  const GearTemperatures t = gear_temperatures(gear);
  // Heat leaves outwards only: mean above outer face by P [r2²/2·… ] of a shell insulated inside,
  //   T_mean − T_2 = q/(8k) (r2² − 3 r1² + 4 r1⁴ ln(r2/r1)/(r2² − r1²)), integrated by hand.
  const double a = 0.039 * 0.039, b = 0.048 * 0.048, k = other("PETG").conductivity;
  const double q = 2.0 / (pi * (b - a) * 0.040);
  const double inside = q / (8 * k) * (b - 3 * a + 4 * a * a * std::log(0.048 / 0.039) / (b - a));
  CHECK(t.of("ring body") == Approx(20 + 2.0 / 0.1 + inside).epsilon(1e-8));
  CHECK(t.of("sun magnets") == Approx(t.of("modulator")).epsilon(1e-8));  // no heat passes there
}

TEST_CASE("gear temperature: every path has the conductance of its formula",
          "[solver][thermal][gear]") {
  GearThermal gear = closed_gear();
  gear.shaft_reach = 0.01;
  gear.extra_paths = {{"modulator", "end caps", 0.07}};
  const GearTemperatures t = gear_temperatures(gear);
  const auto g = [&](const std::string& name) {
    for (const HeatFlow& flow : t.flows)
      if (flow.name == name) return flow.conductance;
    FAIL("no path " << name);
    return 0.0;
  };
  // By hand from the data of the gear; PETG 0.2 W/(m·K), sheets 2 along their stack.
  REQUIRE(other("PETG").conductivity == 0.2);
  const double two_faces = 2 * pi * (0.033 * 0.033 - 0.026 * 0.026);
  CHECK(g("modulator ends to inside air") ==
        Approx(two_faces / (1 / 8.0 + 0.040 / 6 / (0.5 * 2 + 0.5 * 0.2))));
  CHECK(g("sun hub to sun magnets") == Approx(2 * pi * 0.020 * 0.040 / 5e-4));
  // 1500 rpm, 1 mm: a little above pure conduction, see the table of gap films.
  const double still = 2 * pi * gear.gap_fluid.conductivity * 0.040 / std::log(26.0 / 25.0);
  CHECK(g("sun magnets to modulator") > still);
  CHECK(g("sun magnets to modulator") < 1.3 * still);
  CHECK(g("modulator to outer wall") ==
        Approx(2 * pi * gear.gap_fluid.conductivity * 0.040 / std::log(33.5 / 33.0)));
  const double k = steel("S235").conductivity;
  CHECK(g("shaft to end caps, bearings") ==
        Approx(2 / (2.0 + (0.040 / 6 + 0.01) / (k * pi * 0.006 * 0.006))));
  CHECK(g("modulator to end caps") == 0.07);
  const double face = 2 * pi * 0.053 * 0.053;
  CHECK(g("inside air to end caps") ==
        Approx(face * 8.0).epsilon(1e-3));  // the metal barely counts
  // Two caps: mean of a disc to its rim, then a pressed joint of 1e-4 m²K/W on 4 mm.
  const double aluminium = other("aluminium-6082-T6").conductivity;
  CHECK(g("housing to end caps") ==
        Approx(2 / (1 / (8 * pi * aluminium * 0.004) + 1e-4 / (2 * pi * 0.053 * 0.004))));
  // Films at the temperature that came out; the housing is 60 mm long.
  const double side = 2 * pi * 0.053 * 0.060, warm = t.of("housing");
  CHECK(
      g("housing to ambient, radiation") ==
      Approx(side * 4 * anodised * 5.67e-8 * std::pow(273.15 + (warm + 20) / 2, 3)).epsilon(2e-3));
  CHECK(g("housing to ambient, air") ==
        Approx(side * 1.32 * std::pow((warm - 20) / 0.106, 0.25)).epsilon(0.15));  // the short law
  // A shaft of 40 mm in the open is nearly as warm along its length.
  CHECK(g("shaft to ambient, overhang") < 30 * pi * 0.012 * 0.040);
  CHECK(g("shaft to ambient, overhang") > 10 * pi * 0.012 * 0.040);
}

TEST_CASE("gear temperature: heat curves end in the steady state; a bench run does not reach it",
          "[solver][thermal][gear]") {
  const GearThermal gear = printed_gear();
  const GearTemperatures t = gear_temperatures(gear, {600.0, 1e6});
  CHECK((t.heating.temperatures[1] - t.steady).cwiseAbs().maxCoeff() < 1e-3);
  // Common practice, no source: ten minutes on the bench are far from the end, which takes the
  // better part of an hour and more.
  const double early = t.heating.temperatures[0][2] - 20, late = t.steady[2] - 20;
  CHECK(t.names[2] == "sun magnets");
  CHECK(early < 0.6 * late);
  CHECK(t.time_constants[0] > 15 * 60);
  CHECK(t.time_constants[0] < 120 * 60);
}

TEST_CASE("gear temperature: the steps of a heating curve are fine enough",
          "[solver][thermal][gear]") {
  for (const GearThermal& gear : {printed_gear(), closed_gear()}) {
    const ThermalNetwork net = gear_network(gear).network;
    const VectorXd cold = uniform_start(net, gear.ambient);
    const std::vector<double> times = {60, 600, 3600, 14400};
    const HeatingCurve usual = heating_curve(net, cold, times);
    const HeatingCurve fine = heating_curve(net, cold, times, 1e-4);
    for (std::size_t i = 0; i < times.size(); ++i)
      CHECK((usual.temperatures[i] - fine.temperatures[i]).cwiseAbs().maxCoeff() <
            0.01);  // 0.003 K measured
  }
}

TEST_CASE("gear temperature: a printed gear under hand load for twenty minutes stays near the room",
          "[solver][thermal][gear]") {
  // Common practice, no source: 4.5 N·m by hand, a few watts lost in all, laminated pole pieces.
  const GearTemperatures t = gear_temperatures(printed_gear(), {1200.0});
  const VectorXd& late = t.heating.temperatures[0];
  for (std::size_t i = 0; i < t.names.size(); ++i) {
    const std::string& name = t.names[i];
    if (name != "sun magnets" && name != "modulator" && name != "ring magnets") continue;
    INFO(name << " " << late[static_cast<Eigen::Index>(i)] << " °C");
    CHECK(late[static_cast<Eigen::Index>(i)] > 20.2);
    CHECK(late[static_cast<Eigen::Index>(i)] < 26.0);
  }
}

TEST_CASE("gear temperature: a fan cools, a dull paint cools, a bare housing does not",
          "[solver][thermal][gear]") {
  GearThermal gear = closed_gear();
  const double still = gear_temperatures(gear).of("modulator");
  gear.fan = gentle_fan;
  CHECK(gear_temperatures(gear).of("modulator") < still - 1);
  gear.fan.reset();
  gear.emissivity = bare_aluminium;
  CHECK(gear_temperatures(gear).of("modulator") > still + 1);
}

TEST_CASE("gear temperature: measured values stand in place of computed ones",
          "[solver][thermal][gear]") {
  GearThermal gear = closed_gear();
  gear.measured_temperatures["housing"] = 35.0;
  gear.measured_conductances["sun magnets to modulator"] = 0.123;
  const GearTemperatures t = gear_temperatures(gear);
  CHECK(t.of("housing") == 35.0);
  CHECK(t.heat_out == Approx(t.heat_in).epsilon(1e-10));
  const auto flow = std::find_if(t.flows.begin(), t.flows.end(), [](const HeatFlow& f) {
    return f.name == "sun magnets to modulator";
  });
  REQUIRE(flow != t.flows.end());
  CHECK(flow->conductance == 0.123);
  gear.measured_conductances["sun magnets to moon"] = 1.0;
  CHECK_THROWS_WITH(gear_temperatures(gear), Contains("sun magnets to modulator"));
  GearThermal other_gear = printed_gear();
  other_gear.measured_temperatures["housing"] = 35.0;
  CHECK_THROWS_WITH(gear_temperatures(other_gear), Contains("no part \"housing\""));
}

TEST_CASE("gear temperature: which limit is passed first, and when", "[solver][thermal][gear]") {
  GearThermal gear = printed_gear();
  CHECK_FALSE(gear_temperatures(gear).first_limit);
  CHECK(*gear_temperatures(gear).margin > 0);
  gear.losses.modulator = 20.0;  // solid pole pieces, say
  const GearTemperatures hot = gear_temperatures(gear);
  REQUIRE(hot.first_limit);
  CHECK(*hot.margin < 0);
  CHECK(hot.first_limit->limit.reason == "modulator: long-term temperature of PETG");
  const auto at = gear_temperatures(gear, {hot.first_limit->time}).heating.temperatures[0];
  const auto part = std::find(hot.names.begin(), hot.names.end(), "modulator") - hot.names.begin();
  CHECK(at[part] == Approx(55.0).margin(0.05));  // both follow the film laws to 0.02 K
  gear.extra_limits.push_back({"sun magnets", 24.0, "a soft glue"});
  CHECK(gear_temperatures(gear).first_limit->limit.reason == "sun magnets: a soft glue");
}

TEST_CASE("gear temperature: a warm gear may slip for less time than a cold one",
          "[solver][thermal][gear]") {
  GearThermal running = printed_gear(), resting = printed_gear();
  resting.losses = {};
  PartLosses slipping;
  slipping.modulator = 40.0;
  slipping.sun_magnets = 5.0;
  const MemberSpeeds speeds{500 * rpm, 0, 0};
  const auto warm = safe_slipping_time(running, slipping, speeds);
  const auto cold = safe_slipping_time(resting, slipping, speeds);
  REQUIRE(warm);
  REQUIRE(cold);
  CHECK(warm->time < cold->time);
  // Insulated, the pole pieces and their webs alone would take C ΔT/P with the PETG's 55 °C.
  const auto heat = [](const HeatMaterial& m) { return m.density * m.specific_heat; };
  const double capacity = pi * (0.033 * 0.033 - 0.026 * 0.026) * 0.040 * 0.5 *
                          (heat(steel("M400-50A")) + heat(other("PETG")));
  CHECK(cold->time > capacity * 35.0 / 40.0);
  CHECK(cold->time < 2 * capacity * 35.0 / 40.0);
  CHECK_FALSE(safe_slipping_time(running, running.losses, running.speeds));
}

TEST_CASE("gear temperature: a carrier is judged where it touches what is hot",
          "[solver][thermal][gear]") {
  GearThermal gear = printed_gear();
  gear.losses = {};
  gear.losses.ring_magnets = 12.0;
  for (ThermalPart* part : {&gear.sun_magnets, &gear.modulator, &gear.ring_magnets})
    part->filler.reset();
  const GearTemperatures t = gear_temperatures(gear);
  CHECK(t.nearest_limit == "ring body, inner face: long-term temperature of PETG");
  CHECK(*t.margin < 55.0 - t.of("ring body") - 1.0);
}

TEST_CASE("gear temperature: the highest continuous speed is where the margin is used up",
          "[solver][thermal][gear]") {
  GearLosses losses;
  losses.counts = {4, 17, 13};
  losses.relative_speed = 100.0;
  losses.loads = {{0.0, 0.0, {{"modulator", 1.0, 3.0, 0.2}, {"ring magnets", 0.0, 1.0, 0.0}}},
                  {1.4, 0.4, {{"modulator", 1.5, 3.5, 0.2}, {"ring magnets", 0.0, 2.0, 0.0}}}};
  losses.friction = {Bearing{.sides = {TurnsWith::sun, TurnsWith::housing}, .seal_torque = 0.01},
                     GapWindage{.inner_radius = 0.025, .outer_radius = 0.026, .length = 0.04}};
  const Drive drive{Member::ring, Member::sun, Member::modulator};
  GearThermal gear = printed_gear();
  const SpeedLimit limit = highest_continuous_speed(losses, drive, 3.0, gear, 600.0);
  REQUIRE(limit.reached);
  const auto margin = [&](double speed) {
    const auto point = operating_point(losses, drive, speed, 3.0);
    gear.speeds = point->speeds;
    gear.losses = part_losses(*point);
    CHECK(gear.losses.total() == Approx(point->magnetic_loss + point->friction_loss));
    return *gear_temperatures(gear).margin;
  };
  CHECK(margin(limit.input_speed) == Approx(0.0).margin(1e-3));  // 1e-6 of the speed
  CHECK(margin(0.9 * limit.input_speed) > 1.0);
  losses.loads[0].losses[0].part = losses.loads[1].losses[0].part = "pole shoes";
  CHECK_THROWS_WITH(part_losses(*operating_point(losses, drive, 10.0, 0.0)),
                    Contains("pole shoes"));
}

TEST_CASE("gear temperature: losses that follow temperature settle, or tell that they run away",
          "[solver][thermal][gear]") {
  const auto following = [](double per_kelvin) {
    return [per_kelvin](const GearTemperatures& t) {
      PartLosses losses;
      losses.modulator = 2.0 * (1 + per_kelvin * (t.of("modulator") - 20));
      return losses;
    };
  };
  const GearTemperatures settled = settled_temperatures(closed_gear(), following(-0.002));
  CHECK(settled.converged);
  CHECK(settled.heat_in ==
        Approx(2.0 * (1 - 0.002 * (settled.of("modulator") - 20))).epsilon(1e-3));
  CHECK_FALSE(settled_temperatures(closed_gear(), following(+1.0)).converged);
}

TEST_CASE("gear temperature: a duty cycle swings about the steady state of its mean",
          "[solver][thermal][gear]") {
  GearThermal gear = printed_gear();
  PartLosses work = gear.losses, rest;
  work.modulator = 3.0;
  gear.losses.modulator = 1.5;
  gear.losses.sun_magnets /= 2;
  gear.losses.ring_magnets /= 2;
  gear.losses.bearings /= 2;
  const VectorXd mean = gear_temperatures(gear).steady;
  const GearDuty slow = duty_temperatures(gear, {{600, work}, {600, rest}});
  const GearDuty fast = duty_temperatures(gear, {{1, work}, {1, rest}});
  CHECK((slow.hottest - mean).minCoeff() > -1e-6);
  CHECK((mean - slow.coolest).minCoeff() > -1e-6);
  CHECK((slow.hottest - mean).maxCoeff() > 1.0);
  CHECK((fast.hottest - mean).maxCoeff() < 0.05);  // a second warms 100 J/K by 0.03 K
}

TEST_CASE("gear temperature: parts that overlap are refused in the user's words",
          "[solver][thermal][gear]") {
  GearThermal gear = printed_gear();
  gear.modulator.inner_radius = 0.024;
  CHECK_THROWS_WITH(gear_temperatures(gear),
                    Contains("modulator") && Contains("24 mm") && Contains("25 mm"));
  CHECK_THROWS_AS(gear_temperatures(gear), InputError);
}
