// tests/solver/motion_test.cpp — kinematics and the figures read from curves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "materials/constants.h"
#include "solver/motion/kinematics.h"
#include "solver/motion/positions.h"
#include "solver/motion/torque_curve.h"

using namespace lodegear;

TEST_CASE("kinematics: in step the load angle stays and the held member rests",
          "[solver][motion]") {
  const PoleCounts counts{4, 23, 19};
  for (Member held : {Member::sun, Member::modulator, Member::ring})
    for (double phase : {0.0, 0.3, 2.0}) {
      const Position p = synchronous_position(counts, held, 0.7, phase);
      CHECK(load_angle(counts, p) == Approx(0.7).margin(1e-12));
      CHECK(p.of(held) == Approx(0.0).margin(1e-12));
      CHECK(p.sun - p.modulator == Approx(phase).margin(1e-12));
    }
}

TEST_CASE("kinematics: the three ratios of 4/21/17", "[solver][motion]") {
  // Atallah, Howe, IEEE Trans. Magn. 37(4) (2001) 2844: p_s ω_s + p_r ω_r = n ω_m.
  const auto ratios = speed_ratios({4, 21, 17});
  CHECK(ratios[0].input_over_output == Approx(-17.0 / 4));
  CHECK(ratios[1].input_over_output == Approx(21.0 / 4));
  CHECK(ratios[2].input_over_output == Approx(21.0 / 17));
  for (const SpeedRatio& r : ratios) CHECK(std::abs(r.input_over_output) > 1);
}

TEST_CASE("kinematics: ripple repeats LCM(2p_s, n) times a turn, the same seen from the ring",
          "[solver][motion]") {
  CHECK(ripples_per_turn({4, 21, 17}, true) == 168);
  CHECK(ripples_per_turn({2, 11, 9}, true) == 44);
  CHECK(ripples_per_turn({4, 21, 17}, false) == 84);
}

TEST_CASE("positions: a slip curve covers one electrical period, whichever member turns",
          "[solver][motion]") {
  const PoleCounts counts{4, 21, 17};
  for (Member turned : {Member::sun, Member::modulator, Member::ring}) {
    const auto positions = slip_positions(counts, turned, 8, {0.1, 0.2, 0.3});
    for (int i = 0; i < 8; ++i)
      CHECK(load_angle(counts, positions[static_cast<std::size_t>(i)]) ==
            Approx(2 * pi * i / 8).margin(1e-12));
  }
}

TEST_CASE("torque curve: interpolation is exact for the orders it has", "[solver][motion]") {
  const auto f = [](double t) {
    return 0.3 - 2 * std::sin(2 * pi * t) + 0.1 * std::cos(6 * pi * t) -
           0.05 * std::sin(10 * pi * t);
  };
  std::vector<double> samples;
  for (int i = 0; i < 16; ++i) samples.push_back(f(i / 16.0));
  const PeriodicCurve curve(samples);
  for (double t : {0.0, 0.123, 0.77}) {
    CHECK(curve.at(t) == Approx(f(t)).epsilon(1e-12));  // round-off
    CHECK(curve.slope(t) == Approx((f(t + 1e-6) - f(t - 1e-6)) / 2e-6).epsilon(1e-6));
  }
  CHECK(curve.mean() == Approx(0.3));
  CHECK(curve.amplitude(3) == Approx(0.1));
  double best = -1e9;
  for (int i = 0; i < 200000; ++i) best = std::max(best, f(i / 200000.0));
  CHECK(maximum(curve).value == Approx(best).epsilon(1e-9));
  CHECK(f(minimum(curve).at) == Approx(minimum(curve).value).epsilon(1e-12));
}

TEST_CASE("ripple: peak to peak and amplitudes of a known wave", "[solver][motion]") {
  std::vector<double> samples;
  for (int i = 0; i < 12; ++i) samples.push_back(5 + 0.2 * std::sin(2 * pi * i / 12.0));
  const Ripple r = ripple(samples);
  CHECK(r.mean == Approx(5.0));
  CHECK(r.peak_to_peak == Approx(0.4));
  CHECK(r.amplitudes[0] == Approx(0.2));
  CHECK(r.amplitudes.size() == 5);
}
