// tests/solver/gear_spring_test.cpp — the gear as a spring, and its motion in time.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/gear_spring.h"

#include <Eigen/Eigenvalues>
#include <catch2/catch.hpp>
#include <cmath>

#include "materials/constants.h"
#include "solver/motion/runge_kutta.h"
#include "solver/motion/slip_motion.h"

using namespace lodegear;

namespace {

constexpr double ring_peak = 20.0;  // N·m on the ring of a 4/17/13 gear
GearSpring sine_gear() { return GearSpring::sine(4, 17, 13, Member::ring, ring_peak); }

// A slip curve with a third harmonic, on the sun, with a mean that is numerical noise.
GearSpring bent_gear() {
  std::vector<double> torque;
  for (int i = 0; i < 24; ++i) {
    const double delta = 2 * pi * i / 24;
    torque.push_back(-8 * std::sin(delta) + 1.5 * std::sin(3 * delta) + 0.01);
  }
  return {4, 17, 13, Member::sun, PeriodicCurve(torque)};
}

// Root of a function that changes sign once.
template <typename F>
double root(F f, double low, double high) {
  const bool rises = f(low) < 0;
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    ((f(middle) < 0) == rises ? low : high) = middle;
  }
  return low;
}

// Ring free, all else held.
MotionSetup ring_setup(double inertia) {
  MotionSetup setup;
  setup.shafts[2].inertia = inertia;
  return setup;
}

}  // namespace

TEST_CASE("runge kutta: an oscillator keeps its phase over a hundred turns", "[solver][motion]") {
  std::array<double, 2> y = {1.0, 0.0};
  const bool done = integrate(
      [](double, const std::array<double, 2>& at) {
        return std::array<double, 2>{at[1], -at[0]};
      },
      0.0, 200 * pi, y, {1.0, 1.0}, 1e-9, 0.01, [](double, const std::array<double, 2>&) {});
  CHECK(done);
  CHECK(y[0] == Approx(1.0).margin(1e-6));
  CHECK(y[1] == Approx(0.0).margin(1e-5));
}

TEST_CASE("gear spring: torques, stiffness and wind-up of a sine", "[solver][motion]") {
  const GearSpring spring = sine_gear();
  CHECK(spring.torque(Member::ring, pi / 2) == Approx(-20.0));
  CHECK(spring.torque(Member::sun, pi / 2) == Approx(-20.0 * 4 / 13));
  CHECK(spring.torque(Member::modulator, pi / 2) == Approx(20.0 * 17 / 13));
  CHECK(spring.stiffness(Member::ring) == Approx(13 * 20.0));  // 260 N·m/rad
  CHECK(spring.stiffness(Member::sun) == Approx(4 * 20.0 * 4 / 13));
  // Half the peak turns the ring by asin(1/2)/13 = 2.3°.
  const double delta = *spring.wind_up(0.5 * 20.0 / 13);
  CHECK(delta / 13 == Approx(std::asin(0.5) / 13));
  CHECK(*spring.crest(0.5 * 20.0 / 13) == Approx(pi - std::asin(0.5)));
  CHECK(*spring.wind_up(-0.5 * 20.0 / 13) == Approx(-std::asin(0.5)));
  CHECK_FALSE(spring.wind_up(1.01 * 20.0 / 13));
  CHECK(spring.potential_range() == Approx(2 * 20.0 / 13));
}

TEST_CASE("gear spring: the same from the curve of any member", "[solver][motion]") {
  for (Member m : {Member::sun, Member::modulator, Member::ring}) {
    const double peak = 20.0 / 13 * (m == Member::sun ? 4 : m == Member::modulator ? 17 : 13);
    const GearSpring spring = GearSpring::sine(4, 17, 13, m, peak);
    CHECK(spring.tau(0.7) == Approx(20.0 / 13 * std::sin(0.7)));
  }
}

TEST_CASE("gear spring: reversed, it is the gear seen in a mirror", "[solver][motion]") {
  std::vector<double> torque;  // saturation may add even orders
  for (int i = 0; i < 16; ++i) {
    const double delta = 2 * pi * i / 16;
    torque.push_back(-8 * std::sin(delta) + 2 * std::sin(2 * delta) - std::cos(3 * delta));
  }
  const GearSpring spring(4, 17, 13, Member::sun, PeriodicCurve(torque));
  const GearSpring reversed = spring.reversed();
  for (double delta : {-2.0, 0.1, 1.5}) CHECK(reversed.tau(delta) == Approx(-spring.tau(-delta)));
  CHECK(reversed.peak_tau() == Approx(-spring.lowest_tau()));
  CHECK(reversed.factor(Member::modulator) == -17);
}

TEST_CASE("gear spring: the potential is the integral of the torque, the mean left out",
          "[solver][motion]") {
  const GearSpring spring = bent_gear();
  // τ = 2 sin δ − 0.375 sin 3δ: U = 2 (1 − cos δ) − 0.125 (1 − cos 3δ).
  for (double delta : {-7.0, -1.0, 0.0, 0.3, 2.0, 3.1, 20.0})
    CHECK(spring.potential(delta) ==
          Approx(2 * (1 - std::cos(delta)) - 0.125 * (1 - std::cos(3 * delta))).margin(1e-9));
  CHECK(spring.slope(0.0) == Approx(2 - 3 * 0.375));
}

TEST_CASE("gear spring: two inertias swing at the eigenvalue of their equations",
          "[solver][motion]") {
  // Independently: M θ″ = −K θ with K = τ̂ c cᵀ, as a matrix problem; the other mode is the gear
  // turning in step.
  const GearSpring spring = sine_gear();
  const double j_sun = 2e-4, j_modulator = 5e-3;
  Eigen::Matrix2d mass, stiffness;
  mass << j_sun, 0, 0, j_modulator;
  stiffness << 16, -68, -68, 289;
  stiffness *= 20.0 / 13;
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::Matrix2d> modes(stiffness, mass);
  const Inertias inertias{j_sun, j_modulator, held_fast};  // ring held
  CHECK(natural_frequency(spring, inertias) ==
        Approx(std::sqrt(modes.eigenvalues()[1]) / (2 * pi)));
  CHECK(std::abs(modes.eigenvalues()[0]) < 1e-9 * modes.eigenvalues()[1]);
  // One end held: √(p τ̂ p/J).
  CHECK(natural_frequency(spring, {held_fast, held_fast, 1e-3}) ==
        Approx(std::sqrt(13 * 20.0 / 1e-3) / (2 * pi)));
  CHECK(natural_frequency(spring, {held_fast, held_fast, 1e-3}, pi / 3) ==
        Approx(std::sqrt(13 * 10.0 / 1e-3) / (2 * pi)));  // softer under load
  CHECK(natural_frequency(spring, {held_fast, held_fast, 1e-3}, pi) == 0.0);
}

TEST_CASE("gear spring: the largest sudden load is where the areas are equal", "[solver][motion]") {
  const GearSpring spring = sine_gear();
  const double peak = spring.peak_tau();
  // From rest: 1 + √(1−s²) = s (π − asin s), s = 0.7246.
  const double s =
      root([](double x) { return x * (pi - std::asin(x)) - 1 - std::sqrt(1 - x * x); }, 0.1, 0.999);
  CHECK(s == Approx(0.7246).epsilon(1e-4));
  CHECK(largest_sudden_load(spring) == Approx(s * peak).epsilon(1e-6));
  // After a load of 0.4 had wound it up: cos δ0 + √(1−x²) = x (π − asin x − δ0).
  const double start = std::asin(0.4);
  const double after = root(
      [&](double x) {
        return x * (pi - std::asin(x) - start) - std::cos(start) - std::sqrt(1 - x * x);
      },
      0.41, 0.999);
  CHECK(largest_sudden_load(spring, 0.4 * peak) == Approx(after * peak).epsilon(1e-6));
  // Friction eats the overshoot; much friction leaves the whole slip torque.
  const double damped = largest_sudden_load(spring, 0.0, 0.2);
  CHECK(damped > 1.05 * s * peak);
  CHECK(damped < peak);
  CHECK(largest_sudden_load(spring, 0.0, 2.0) > 0.99 * peak);
}

TEST_CASE("gear spring: a load on the output reaches the spring divided by the inertias",
          "[solver][motion]") {
  const GearSpring spring = sine_gear();
  // Sun driven at fixed speed, ring held: all of it.
  CHECK(load_seen(spring, {held_fast, 1e-3, held_fast}, {0, -3.0, 0}) == Approx(3.0 / 17));
  // Sun free: what accelerates both together does not wind the spring.
  const double j_sun = 2e-4, j_modulator = 5e-3;
  const double part = (289 / j_modulator) / (289 / j_modulator + 16 / j_sun);
  CHECK(load_seen(spring, {j_sun, j_modulator, held_fast}, {0, -3.0, 0}) ==
        Approx(3.0 / 17 * part));
}

TEST_CASE("slip motion: small swings have the natural frequency and keep their energy",
          "[solver][motion]") {
  const GearSpring spring = sine_gear();
  MotionSetup setup;
  setup.shafts[0].inertia = 2e-4;
  setup.shafts[1].inertia = 5e-3;
  setup.shafts[0].start_angle = 0.01 / 4;
  const double f = natural_frequency(spring, {2e-4, 5e-3, held_fast});
  setup.duration = 10 / f;
  const Motion m = motion(spring, setup);
  REQUIRE(m.complete);
  CHECK(m.samples.back().load_angle == Approx(0.01).epsilon(1e-3));  // after ten whole periods
  CHECK(m.locked);
  CHECK(m.poles_slipped == 0);
  const auto energy = [&](const MotionSample& s) {
    return 0.5 * (2e-4 * s.speed[0] * s.speed[0] + 5e-3 * s.speed[1] * s.speed[1]) +
           spring.potential(s.load_angle);
  };
  CHECK(energy(m.samples.back()) == Approx(energy(m.samples.front())).epsilon(1e-4));
}

TEST_CASE("slip motion: just below the largest sudden load it holds, just above it slips",
          "[solver][motion]") {
  for (const GearSpring& spring : {sine_gear(), bent_gear()})
    for (double direction : {1.0, -1.0}) {
      MotionSetup setup = ring_setup(1e-3);
      const double limit = largest_sudden_load(spring);
      setup.duration = 20 / natural_frequency(spring, {held_fast, held_fast, 1e-3});
      for (double part : {0.998, 1.002}) {
        setup.shafts[2].torque = [&](double) { return direction * part * limit * 13; };
        const Motion m = motion(spring, setup);
        REQUIRE(m.complete);
        CHECK((m.poles_slipped == 0) == (part < 1));
        if (part > 1) CHECK(m.poles_slipped * direction > 0);
        CHECK(m.locked == (part < 1));
      }
    }
}

TEST_CASE(
    "slip motion: under an overload against heavy friction it ratchets as the closed form says",
    "[solver][motion]") {
  // With little inertia c δ′/p² = τ_load − τ̂ sin δ, whose mean speed is (p²/c) √(τ_load² − τ̂²)
  // (Adler, Proc. IRE 34 (1946) 351).
  const GearSpring spring = sine_gear();
  const double c = 5.0, overload = 1.25 * spring.peak_tau();
  MotionSetup setup = ring_setup(2.4e-4);  // friction's rate is 20 natural frequencies
  setup.shafts[2].viscous = c;
  setup.shafts[2].torque = [&](double) { return 13 * overload; };
  const double mean = 169 / c * std::sqrt(overload * overload - std::pow(spring.peak_tau(), 2));
  setup.duration = 40 * 2 * pi / mean;
  setup.samples = 400;
  const Motion m = motion(spring, setup);
  REQUIRE(m.complete);
  CHECK_FALSE(m.locked);
  CHECK(m.poles_slipped == Approx(40).margin(1));
  // A quarter of the time is ten poles: whole ones up to the phase at both ends.
  CHECK(m.ratchet_frequency == Approx(mean / (2 * pi)).epsilon(0.01));
}

TEST_CASE("slip motion: it locks in below the lock-in speed, twice the natural frequency",
          "[solver][motion]") {
  const GearSpring spring = sine_gear();
  const double kappa = 169 / 1e-3, omega = std::sqrt(kappa * spring.peak_tau());
  CHECK(lock_in_speed(spring, kappa) == Approx(2 * omega));
  MotionSetup setup = ring_setup(1e-3);
  setup.duration = 20 * 2 * pi / omega;
  for (double part : {0.99, 1.01}) {
    setup.shafts[2].start_speed = part * 2 * omega / 13;
    const Motion m = motion(spring, setup);
    CHECK(m.locked == (part < 1));
    CHECK((m.poles_slipped == 0) == (part < 1));
  }
}

TEST_CASE("slip motion: a slipping gear locks in again when the load falls below the closed form",
          "[solver][motion]") {
  const GearSpring spring = sine_gear();
  const double inertia = 1e-3, kappa = 169 / inertia, omega = std::sqrt(kappa * spring.peak_tau());
  const double rate = 0.05 * omega;
  const double load = lock_in_load(spring, kappa, rate);
  CHECK(load == Approx(4 / pi * 0.05 * spring.peak_tau()).epsilon(1e-5));
  MotionSetup setup = ring_setup(inertia);
  setup.shafts[2].viscous = rate * inertia;
  setup.shafts[2].start_speed = 4 * omega / 13;  // slips fast at first
  setup.duration = 300 / rate;
  for (double part : {0.97, 1.03}) {
    setup.shafts[2].torque = [&](double) { return 13 * part * load; };
    const Motion m = motion(spring, setup);
    REQUIRE(m.complete);
    CHECK(m.locked == (part < 1));
    CHECK((m.ratchet_frequency == 0.0) == (part < 1));
  }
}

TEST_CASE("slip motion: overload, slip, relief, lock; the ratio holds again", "[solver][motion]") {
  // Sun driven at 30 rad/s, ring held, the modulator carries a load that rises beyond slip and
  // falls.
  const GearSpring spring = sine_gear();
  const double peak = spring.peak_tau() * 17;
  MotionSetup setup;
  setup.shafts[0].start_speed = 30.0;
  setup.shafts[1].inertia = 2e-3;
  setup.shafts[1].start_speed = 30.0 * 4 / 17;
  setup.shafts[1].viscous = 0.05;
  setup.shafts[1].torque = [&](double t) { return t > 0.2 && t < 0.4 ? -1.3 * peak : 0.0; };
  setup.duration = 4.0;
  const Motion m = motion(spring, setup);
  REQUIRE(m.complete);
  CHECK(m.poles_slipped > 0);
  CHECK(m.last_slip > 0.2);
  CHECK(m.locked);
  CHECK(m.samples.back().speed[1] == Approx(30.0 * 4 / 17).epsilon(1e-3));
  CHECK(m.samples.back().speed[0] == 30.0);  // driven
}

TEST_CASE("slip motion: dry friction brings a swing to rest where it holds the spring",
          "[solver][motion]") {
  const GearSpring spring = sine_gear();
  MotionSetup setup = ring_setup(1e-3);
  setup.shafts[2].dry_friction = 0.5;
  setup.shafts[2].start_angle = 0.5 / 13;
  setup.duration = 1.0;
  const Motion m = motion(spring, setup);
  REQUIRE(m.complete);
  CHECK(std::abs(m.samples.back().torque[2]) < 0.5);
  CHECK(std::abs(m.samples.back().speed[2]) < 1e-3);
}

TEST_CASE("slip motion: the pull-in speed of a light output on a driven sun", "[solver][motion]") {
  // At 1300 rad/s of the sun friction in step is the whole slip torque, 0.05 · 1300 · 4/13 = 20
  // N·m: above that nothing can lock. A heavier output is pulled along less easily.
  const GearSpring spring = sine_gear();
  MotionSetup setup;
  setup.shafts[2].inertia = 1e-3;
  setup.shafts[2].viscous = 0.05;
  setup.duration = 1.0;
  setup.samples = 20;
  setup.tolerance = 1e-5;
  const double light = pull_in_speed(spring, setup, Member::sun, 2000.0, 4);
  setup.shafts[2].inertia = 4e-3;
  setup.duration = 4.0;  // friction needs as much longer
  const double heavy = pull_in_speed(spring, setup, Member::sun, 2000.0, 4);
  INFO("light " << light << ", heavy " << heavy << " rad/s");
  CHECK(light < 1300.0);
  CHECK(light > 0.0);
  CHECK(heavy < light);
}
