// tests/mesh/magnet_patterns_test.cpp — which way magnets point.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/magnet_patterns.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "gears.h"

using namespace lodegear;
using Catch::WithinAbs;
using Eigen::Vector2d;

namespace {

MagnetRotor with_pattern(int pole_pairs, MagnetPattern pattern) {
  return arc_rotor(pole_pairs, 24 * mm, 30 * mm, std::move(pattern));
}

/// Direction of a magnet at its own centre.
Vector2d direction(const MagnetRotor& rotor, int index) {
  const double t = magnet_centre_angle(rotor, index);
  return magnetisation(rotor, index).at({27 * mm * std::cos(t), 27 * mm * std::sin(t)});
}

Vector2d unit(double angle) { return {std::cos(angle), std::sin(angle)}; }

}  // namespace

TEST_CASE("magnet patterns: stepped Halbach segments step by a full turn a pole pair",
          "[mesh][magnet_patterns]") {
  // Absolute direction (1 ∓ p) t_j at t_j = 2π(j + s)/(m p): Halbach, Nucl. Instrum. Methods 169
  // (1980) 1. Tolerance: round-off.
  const int m = GENERATE(2, 3, 4, 6, 8), p = GENERATE(1, 4, 13);
  const auto side = GENERATE(FluxSide::outward, FluxSide::inward);
  const auto centre = GENERATE(PoleCentre::on_segment, PoleCentre::on_joint);
  const MagnetRotor rotor = with_pattern(p, SteppedHalbach{m, side, centre});
  REQUIRE(n_magnets(rotor) == m * p);
  for (int j = 0; j < m * p; ++j) {
    const double s = centre == PoleCentre::on_joint ? 0.5 : 0.0, t = 2 * pi * (j + s) / (m * p);
    CHECK_THAT(magnet_centre_angle(rotor, j), WithinAbs(t, 1e-14));
    const double turns = side == FluxSide::outward ? 1.0 - p : 1.0 + p;
    CHECK((direction(rotor, j) - unit(turns * t)).norm() < 1e-12);
  }
}

TEST_CASE("magnet patterns: Halbach of two segments is the alternating parallel pattern",
          "[mesh][magnet_patterns]") {
  const auto side = GENERATE(FluxSide::outward, FluxSide::inward);
  const MagnetRotor halbach = with_pattern(5, SteppedHalbach{2, side});
  const MagnetRotor parallel = with_pattern(5, AlternatingParallel{});
  for (int j = 0; j < 10; ++j)
    CHECK((direction(halbach, j) - direction(parallel, j)).norm() < 1e-12);  // round-off
}

TEST_CASE("magnet patterns: the pole on +x points outward in every pattern",
          "[mesh][magnet_patterns]") {
  const MagnetPattern pattern =
      GENERATE(values<MagnetPattern>({AlternatingRadial{}, AlternatingParallel{}, SteppedHalbach{4},
                                      ContinuousHalbach{FluxSide::inward}}));
  const MagnetRotor rotor = with_pattern(3, pattern);
  CHECK((magnetisation(rotor, 0).at({0.03, 0.0}) - Vector2d(1.0, 0.0)).norm() < 1e-15);
}

TEST_CASE("magnet patterns: radial magnets are radial everywhere, in turn",
          "[mesh][magnet_patterns]") {
  const MagnetRotor rotor = with_pattern(4, AlternatingRadial{});
  for (int j = 0; j < 8; ++j)
    for (double off : {-0.3, 0.0, 0.2}) {
      const Vector2d u = unit(magnet_centre_angle(rotor, j) + off);
      const double sign = j % 2 == 0 ? 1.0 : -1.0;
      CHECK((magnetisation(rotor, j).at(0.03 * u) - sign * u).norm() < 1e-14);
    }
}

TEST_CASE("magnet patterns: continuous Halbach turns with the point, not with the magnet",
          "[mesh][magnet_patterns]") {
  const MagnetRotor rotor = with_pattern(4, ContinuousHalbach{FluxSide::outward});
  CHECK(n_magnets(rotor) == 8);
  for (double t : {0.1, 1.0, 2.5, -2.0})
    CHECK((magnetisation(rotor, 3).at(0.03 * unit(t)) - unit(-3 * t)).norm() < 1e-14);
}

TEST_CASE("magnet patterns: a list repeats relative to the local radius",
          "[mesh][magnet_patterns]") {
  const MagnetRotor rotor = with_pattern(2, DirectionList{{0.0, 0.5 * pi, pi, 1.5 * pi}, 4});
  CHECK(n_magnets(rotor) == 8);
  for (int j = 0; j < 8; ++j)
    CHECK((direction(rotor, j) - unit(magnet_centre_angle(rotor, j) + (j % 4) * pi / 2)).norm() <
          1e-14);
}

TEST_CASE("magnet patterns: wedge 0 between spokes gathers the flux of both neighbours",
          "[mesh][magnet_patterns]") {
  MagnetRotor rotor = with_pattern(4, AlternatingParallel{});
  rotor.shape = SpokeMagnets{5 * mm, "steel"};
  REQUIRE(n_magnets(rotor) == 8);
  CHECK_THAT(magnet_centre_angle(rotor, 0), WithinAbs(pi / 8, 1e-15));
  CHECK(direction(rotor, 0).y() < 0.0);  // clockwise, towards +x
  CHECK(direction(rotor, 7).y() > 0.0);  // counter-clockwise, towards +x
  for (int j = 0; j < 8; ++j)
    CHECK(std::abs(direction(rotor, j).dot(unit(magnet_centre_angle(rotor, j)))) < 1e-15);
}

TEST_CASE("magnet patterns: several blocks a pole stand evenly about the pole's centre",
          "[mesh][magnet_patterns]") {
  MagnetRotor rotor = with_pattern(4, AlternatingParallel{});
  const int per_pole = GENERATE(1, 2, 3, 4);
  BlockMagnets blocks = block(3 * mm, 4 * mm, 27 * mm);
  blocks.blocks_per_pole = per_pole;
  blocks.block_pitch = 9 * degree;
  rotor.shape = blocks;
  REQUIRE(n_magnets(rotor) == 8 * per_pole);
  const double first = magnet_centre_angle(rotor, 0);
  CHECK_THAT(first, WithinAbs(per_pole % 2 == 1 ? 0.0 : 4.5 * degree, 1e-14));
  double centre = 0.0;  // of pole 1, the inward one
  int found = 0;
  for (int j = 0; j < n_magnets(rotor); ++j) {
    const double radial = direction(rotor, j).dot(unit(magnet_centre_angle(rotor, j)));
    CHECK_THAT(std::abs(radial), WithinAbs(1.0, 1e-14));  // each along its own centre line
    if (radial < 0.0 && found++ < per_pole) centre += magnet_centre_angle(rotor, j) / per_pole;
  }
  CHECK_THAT(centre, WithinAbs(45 * degree, 1e-14));
  CHECK(found == 4 * per_pole);
}

TEST_CASE("magnet patterns: turned blocks carry their own axis along the pattern",
          "[mesh][magnet_patterns]") {
  const int m = GENERATE(3, 4, 6, 8);
  const auto axis = GENERATE(BlockAxis::thickness, BlockAxis::width);
  MagnetRotor rotor = with_pattern(3, SteppedHalbach{m, FluxSide::outward});
  BlockMagnets blocks = block(3 * mm, 4 * mm, 27 * mm);
  blocks.turned_to_pattern = true;
  blocks.axis = axis;
  rotor.shape = blocks;
  for (int j = 0; j < n_magnets(rotor); ++j) {
    const double along = magnet_centre_angle(rotor, j) + body_angle(rotor, j) +
                         (axis == BlockAxis::width ? pi / 2 : 0.0);
    CHECK_THAT(std::abs(unit(along).dot(direction(rotor, j))), WithinAbs(1.0, 1e-12));
    CHECK(std::abs(body_angle(rotor, j)) <= pi / 2 + 1e-12);
    CHECK_FALSE(is_special_order(rotor, j));
  }
}

TEST_CASE("magnet patterns: what no stock magnet has is a special order",
          "[mesh][magnet_patterns]") {
  MagnetRotor rotor = with_pattern(4, SteppedHalbach{6, FluxSide::outward});
  CHECK_FALSE(is_special_order(rotor, 0));  // along its centre line
  CHECK(is_special_order(rotor, 1));        // 60° off
  CHECK_FALSE(is_special_order(rotor, 3));
  CHECK(is_special_order(with_pattern(4, ContinuousHalbach{}), 0));
  CHECK_FALSE(is_special_order(with_pattern(4, AlternatingRadial{}), 1));
  BlockMagnets blocks = block(3 * mm, 4 * mm, 27 * mm);
  rotor.pattern = SteppedHalbach{4, FluxSide::outward};
  rotor.shape = blocks;
  CHECK_FALSE(is_special_order(rotor, 0));
  CHECK(is_special_order(rotor, 1));  // across the stock axis, body not turned
  rotor.shape = SpokeMagnets{3 * mm, "steel"};
  CHECK_FALSE(is_special_order(rotor, 1));
}

TEST_CASE("magnet patterns: odd magnets are weak, turned or missing, the others as they were",
          "[mesh][magnet_patterns]") {
  MagnetRotor rotor = with_pattern(4, AlternatingRadial{});
  OddMagnet weak, turned, missing;
  weak.index = 1;
  weak.strength = 0.9;
  turned.index = 2;
  turned.turned = 10 * degree;
  missing.index = 3;
  missing.missing = true;
  rotor.odd_magnets = {weak, turned, missing};
  CHECK_THAT(direction(rotor, 0).norm(), WithinAbs(1.0, 1e-15));
  CHECK((direction(rotor, 1) + 0.9 * unit(pi / 4)).norm() < 1e-15);
  CHECK((direction(rotor, 2) - unit(pi / 2 + 10 * degree)).norm() < 1e-15);
  CHECK(direction(rotor, 3).norm() == 0.0);
  CHECK_FALSE(is_special_order(rotor, 2));  // put in wrongly, not ordered so
}
