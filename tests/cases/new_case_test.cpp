// tests/cases/new_case_test.cpp — the first case file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/new_case.h"

#include <catch2/catch.hpp>
#include <limits>

#include "case_texts.h"
#include "mesh/check_gear.h"

using namespace lodegear;
using Catch::Contains;

TEST_CASE("new case: the text reads back without complaint", "[cases][new_case]") {
  struct Wish {
    int sun, ring;
    double width, thickness;
  };
  const Wish wish = GENERATE(Wish{4, 19, 10, 5}, Wish{1, 4, 10, 5}, Wish{3, 14, 5, 5},
                             Wish{4, 13, 20, 10}, Wish{10, 11, 8, 3}, Wish{13, 4, 10, 5},
                             Wish{2, 60, 3, 2}, Wish{1, 1, 40, 2}, Wish{100, 150, 1, 1});
  NewCaseOptions options;
  options.sun_pole_pairs = wish.sun;
  options.ring_pole_pairs = wish.ring;
  options.block_width_mm = wish.width;
  options.block_thickness_mm = wish.thickness;
  const std::string text = new_case_text(options);
  const Outcome result = outcome(text);
  INFO(text << result.message());
  REQUIRE(result.read.has_value());
  CHECK(result.read->gear.sun->pole_pairs == wish.sun);
  CHECK(result.read->gear.ring->pole_pairs == wish.ring);
  // Faces and corners stay as far from the pole pieces as was asked, to the 0.05 mm of the text.
  CHECK(gap_clearance(result.read->gear, Gap::inner).magnetic >= 0.95e-3);
  CHECK(gap_clearance(result.read->gear, Gap::inner).magnetic <= 1.1e-3);
  CHECK(gap_clearance(result.read->gear, Gap::outer).magnetic >= 0.95e-3);
  CHECK(gap_clearance(result.read->gear, Gap::outer).magnetic <= 1.1e-3);
}

TEST_CASE("new case: given radii are kept", "[cases][new_case]") {
  NewCaseOptions options;
  options.modulator_inner_radius_mm = 70;
  options.modulator_outer_radius_mm = 78;
  const Outcome result = outcome(new_case_text(options));
  INFO(result.message());
  REQUIRE(result.read.has_value());
  CHECK(result.read->gear.modulator->inner_radius == 0.070);
  CHECK(result.read->gear.modulator->outer_radius == 0.078);
}

TEST_CASE("new case: a name with quotes and line ends is still one text", "[cases][new_case]") {
  NewCaseOptions options;
  options.name = "my \"best\"\ngear \\ 2";
  const Outcome result = outcome(new_case_text(options));
  INFO(result.message());
  REQUIRE(result.read.has_value());
  CHECK(result.read->name == "my \"best\" gear \\ 2");
}

TEST_CASE("new case: wishes that cannot be are told with what would be right",
          "[cases][new_case]") {
  NewCaseOptions options;
  SECTION("no room in the ring") {
    options.modulator_inner_radius_mm = 50;
    options.modulator_outer_radius_mm = 55;
    CHECK_THROWS_WITH(new_case_text(options),
                      Contains("38 blocks of 10 mm") && Contains("give at least"));
  }
  SECTION("no room on the sun") {
    options.modulator_inner_radius_mm = 12;
    options.modulator_outer_radius_mm = 70;
    CHECK_THROWS_WITH(new_case_text(options), Contains("on the sun"));
  }
  SECTION("what is said to be enough is enough") {
    options.modulator_inner_radius_mm = 50;
    options.modulator_outer_radius_mm = 55;
    std::string message;
    try {
      new_case_text(options);
    } catch (const InputError& error) {
      message = error.what();
    }
    const std::string before = "give at least ";
    options.modulator_outer_radius_mm =
        std::stod(message.substr(message.find(before) + before.size()));
    CHECK(outcome(new_case_text(options)).read.has_value());
  }
  SECTION("several at once") {
    options.sun_pole_pairs = 0;
    options.gap_mm = -1;
    CHECK_THROWS_WITH(new_case_text(options), Contains("sun_pole_pairs") && Contains("gap_mm"));
  }
  SECTION("no number") {
    options.block_width_mm = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(new_case_text(options), InputError);
  }
}
