// tests/materials/loss_data_test.cpp — loss of a sheet per kilogram.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/loss_data.h"

#include <catch2/catch.hpp>

using namespace lodegear;
using Catch::WithinRel;

TEST_CASE("loss: the three terms grow with f, f² and f^1.5", "[materials][loss]") {
  SteelLoss loss;
  loss.kh = 0.02;
  CHECK_THAT(specific_loss(loss, 100.0, 1.5), WithinRel(0.02 * 100.0 * 2.25, 1e-14));  // round-off
  loss.kh = 0.0;
  loss.kc = 1e-4;
  CHECK_THAT(specific_loss(loss, 100.0, 1.5), WithinRel(2.25, 1e-14));
  loss.kc = 0.0;
  loss.ke = 1e-3;
  CHECK_THAT(specific_loss(loss, 100.0, 1.0), WithinRel(1.0, 1e-14));
}

TEST_CASE("loss: the classical coefficient of a 0.5 mm sheet", "[materials][loss]") {
  // 0.50 mm, 0.42 µΩ·m, 7700 kg/m³: π²·2.5e-7/(6·0.42e-6·7700) = 1.2716e-4, by hand.
  CHECK_THAT(classical_eddy_coefficient(0.5e-3, 0.42e-6, 7700.0), WithinRel(1.2716e-4, 1e-4));
}
