// tests/solver/overload_test.cpp — slipping under an overload and locking in again.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/overload.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "materials/constants.h"

using namespace lodegear;

namespace {

constexpr double peak = 20.0;  // N·m on the ring of a 4/17/13 gear
GearSpring sine_gear() { return GearSpring::sine(4, 17, 13, Member::ring, peak); }

// Sun driven, modulator held, ring loaded.
Overload ring_overload() {
  Overload o;
  o.output = Member::ring;
  o.input_speed = 100.0;
  o.output_inertia = 1e-3;
  o.load = 0.3 * peak;
  o.overload = 1.5 * peak;
  return o;
}

}  // namespace

TEST_CASE("overload: against a brake it ratchets with the poles that pass, without mean torque",
          "[solver][overload]") {
  const GearSpring spring = sine_gear();
  const auto m = overload_motion(spring, ring_overload());
  REQUIRE(m);
  REQUIRE(m->complete);
  CHECK(m->slips);
  // 4 pole pairs pass a standing ring 100/2π times a second. The brake lets it creep to and fro by
  // a thousandth of its natural speed, ω_0 = 510/s: a mean of half of 1e-3 · 510/400 of the peak.
  CHECK(standing_ratchet_frequency(spring, Member::sun, 100.0) == Approx(400 / (2 * pi)));
  REQUIRE(m->ratchet_frequency);
  CHECK(*m->ratchet_frequency == Approx(400 / (2 * pi)).epsilon(1e-3));
  CHECK(*m->mean_torque == Approx(0.0).margin(1e-3 * peak));
  // The whole slip torque both ways: 48 samples a pole miss the top by 1 − cos(π/48) at most.
  CHECK(m->on_output.most == Approx(peak).epsilon(2.2e-3));
  CHECK(m->on_output.least == Approx(-peak).epsilon(2.2e-3));
  CHECK(m->on_input.most == Approx(peak * 4 / 13).epsilon(2.2e-3));
}

TEST_CASE("overload: what is left of the torque is what brakes the slide", "[solver][overload]") {
  // Output standing: mean torque factor · damping · |δ′|, for the sine's mean is zero; and the
  // input's power is what the slide takes, damping · δ′².
  const GearSpring spring = sine_gear();
  Overload o = ring_overload();
  o.slide_damping = 1e-4;
  const auto m = overload_motion(spring, o);
  REQUIRE(m);
  CHECK(*m->mean_torque == Approx(13 * 1e-4 * 400).epsilon(0.03));  // a creeping brake: 0.01
}

TEST_CASE("overload: a brake that the gear can pull does not make it slip", "[solver][overload]") {
  // A load that comes on at once must stay below 0.7246 of the slip torque (theory 15.7), counted
  // from no load.
  const GearSpring spring = sine_gear();
  Overload o = ring_overload();
  o.load = 0.0;
  for (const double part : {0.72, 0.73}) {
    o.overload = part * peak;
    o.duration = 1.0;
    const auto m = overload_motion(spring, o);
    REQUIRE(m);
    CHECK(m->slips == (part > 0.7246));
  }
  o.load = 1.01 * peak;
  CHECK_FALSE(overload_motion(spring, o));
}

TEST_CASE("overload: relieved, it locks in below the speed that the energy tells",
          "[solver][overload]") {
  // An output at rest under a brake of s times the slip torque starts when τ = s τ̂ and is caught if
  // it is in step before the crest:
  //   (p_in ω)² < 2 κ τ̂ (2 √(1−s²) − s (π − 2 arcsin s)),
  // the area between τ and the load: a pendulum under a constant torque. For s = 0 it is twice the
  // natural frequency, the separatrix (15.8).
  const GearSpring spring = sine_gear();
  const double inertia = 1e-3, kappa = 169 / inertia, s = 0.6;
  MotionSetup setup;
  setup.shafts[2].inertia = inertia;
  setup.shafts[2].dry_friction = s * peak;
  setup.duration = 20 * swing_period(spring, kappa);
  const double area = 2 * std::sqrt(1 - s * s) - s * (pi - 2 * std::asin(s));
  const double limit = std::sqrt(2 * kappa * spring.peak_tau() * area) / 4;
  const double found = pull_in_speed(spring, setup, Member::sun, 2 * limit, 1);
  CHECK(found == Approx(limit).epsilon(2e-3));  // bisected to a two-thousandth

  // And in the whole story: at a speed well below the worst start's limit it locks in, at twice the
  // closed form, which is the best start's, it slips on.
  Overload o = ring_overload();
  o.output_inertia = inertia;
  o.load = s * peak;
  const double worst = pull_in_speed(spring, o, o.load, 2 * limit);
  CHECK(worst > 0.2 * limit);
  CHECK(worst < 1.01 * limit);
  for (const auto& [speed, locks] : {std::pair{0.98 * worst, true}, {2 * limit, false}}) {
    o.input_speed = speed;
    const auto m = overload_motion(spring, o);
    REQUIRE(m);
    CHECK(m->slips);
    CHECK(m->locks_after.has_value() == locks);
    if (!locks) continue;
    // In step again, as 4 to 13, but for what it swings within a pole.
    const MotionSample &a = m->samples[m->samples.size() - 200], &b = m->samples.back();
    CHECK(b.angle[2] - a.angle[2] ==
          Approx(-speed * 4 / 13 * (b.time - a.time)).margin(2 * pi / 13));
  }
}

TEST_CASE("overload: a drive that keeps its torque runs away while the output stands",
          "[solver][overload]") {
  // Mean torque of the gear on the sun is zero then: J ω′ = the drive's torque, here that of the
  // load in step, 6 · 4/13 N·m.
  const GearSpring spring = sine_gear();
  Overload o = ring_overload();
  o.input_inertia = 0.05;
  o.duration = 0.5;
  const auto m = overload_motion(spring, o);
  REQUIRE(m);
  const auto end = std::find_if(m->samples.begin(), m->samples.end(),
                                [](const MotionSample& s) { return s.time >= 0.5; });
  REQUIRE(end != m->samples.end());
  // Within a swing of the gear's torque, 4/13 · 20 N·m for half of the time of a pole, 8 ms.
  CHECK(end->speed[0] - 100 == Approx(6.0 * 4 / 13 / 0.05 * 0.5).margin(1.0));
}

TEST_CASE("overload: a weight drives the output back, and nothing but friction stops that",
          "[solver][overload]") {
  const GearSpring spring = sine_gear();
  Overload o = ring_overload();
  o.brakes = false;
  o.duration = 0.05;
  const auto m = overload_motion(spring, o);
  REQUIRE(m);
  const auto end = std::find_if(m->samples.begin(), m->samples.end(),
                                [](const MotionSample& s) { return s.time >= 0.05; });
  // The ring turns clockwise in step; 1.5 · 20 N·m turn it the other way, T t/J less the way back
  // from step speed, with swings of the gear's torque besides.
  CHECK(end->speed[2] > 0.0);
  CHECK_FALSE(m->locks_after);
  o.slide_damping = 0.02;  // much
  CHECK(overload_motion(spring, o)->locks_after);
}

TEST_CASE("overload: the other way round it is the same in a mirror", "[solver][overload]") {
  const GearSpring spring = sine_gear();
  Overload o = ring_overload();
  const auto forward = overload_motion(spring, o);
  o.input_speed = -o.input_speed;
  const auto backward = overload_motion(spring, o);
  REQUIRE((forward && backward));
  CHECK(backward->poles_slipped == -forward->poles_slipped);
  CHECK(backward->on_output.most == Approx(forward->on_output.most).epsilon(1e-6));
  CHECK(pull_in_speed(spring, o, o.load, 500.0) ==
        Approx(pull_in_speed(spring, ring_overload(), o.load, 500.0)).epsilon(0.1));
}
