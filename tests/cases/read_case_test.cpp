// tests/cases/read_case_test.cpp — what a case file fills.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/read_case.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "case_texts.h"
#include "cases/units.h"
#include "mesh/check_gear.h"
#include "mesh/magnet_patterns.h"

using namespace lodegear;
using Catch::WithinRel;

namespace {

std::string assumed_value(const Case& c, const std::string& key) {
  const auto found = std::find_if(c.assumed.begin(), c.assumed.end(),
                                  [&](const Assumed& assumed) { return assumed.key == key; });
  return found == c.assumed.end() ? "not assumed" : found->value;
}

}  // namespace

TEST_CASE("read case: a complete case fits in twenty lines", "[cases][read_case]") {
  CHECK(lines_of_text(short_case).size() == 20);
  const Case c = read(short_case);
  REQUIRE(c.gear.sun);
  REQUIRE(c.gear.modulator);
  REQUIRE(c.gear.ring);
  CHECK(c.gear.sun->pole_pairs == 4);
  CHECK(c.gear.modulator->pole_pieces == 17);
  CHECK(c.gear.ring->pole_pairs == 13);
  CHECK(c.slip.has_value());
  CHECK(c.running.has_value());
  CHECK(check_gear(c.gear).empty());
  CHECK(c.source_text == short_case);
}

TEST_CASE("read case: millimetres and degrees become metres and radians", "[cases][read_case]") {
  const Case c = read(with_more(short_case,
                                "[ring]\ninitial_angle_deg = 90\n"
                                "[running]\ninput_speed_rpm = 60"));
  // Exact: a division by 1000 gives the double nearest to the decimal number.
  CHECK(c.gear.sun->inner_radius == 0.024);
  CHECK(c.gear.modulator->outer_radius == 0.037);
  CHECK(c.gear.sun->active_length == 0.025);
  CHECK_THAT(c.gear.ring->initial_angle, WithinRel(pi / 2, 1e-15));  // round-off of one product
  CHECK_THAT(c.running->input_speed, WithinRel(2 * pi, 1e-15));      // one turn a second
  const auto& pole = std::get<SectorPole>(c.gear.modulator->shape);
  CHECK_THAT(pole.span_inner, WithinRel(pi / 17, 1e-14));  // half of 360°/17; round-off
  CHECK(pole.span_inner == pole.span_outer);
}

TEST_CASE("read case: every default that was taken is listed, as it would be written",
          "[cases][read_case]") {
  const Case c = read(short_case);
  CHECK(assumed_value(c, "sun.magnets.pattern") == "\"alternating parallel\"");
  CHECK(assumed_value(c, "sun.hub.outer_radius_mm") == "24");
  CHECK(assumed_value(c, "sun.active_length_mm") == "25");
  CHECK(assumed_value(c, "ring.magnets.segments_per_pole_pair") == "4");
  CHECK(assumed_value(c, "ring.magnets.stronger_side") == "\"inward\"");
  CHECK(assumed_value(c, "modulator.span_percent") == "50");
  CHECK(assumed_value(c, "modulator.stacking_factor") == "0.97");
  CHECK(assumed_value(c, "running.load_angles_deg") == "[0, 45]");
  CHECK(assumed_value(c, "mesh.accuracy_percent") == "0.1");
  CHECK(assumed_value(c, "mesh.fineness") == "not assumed");  // the accuracy decides
  CHECK(assumed_value(c, "gear.pole_pieces") == "not assumed");
}

TEST_CASE("read case: writing the assumed values into the file changes nothing else",
          "[cases][read_case]") {
  const Case before = read(short_case);
  std::string more =
      "[slip]\nturned = " + assumed_value(before, "slip.turned") +
      "\nlast_load_angle_deg = " + assumed_value(before, "slip.last_load_angle_deg") +
      "\n[mesh]\naccuracy_percent = " + assumed_value(before, "mesh.accuracy_percent") + "\n";
  const Case after = read(with_more(short_case, more));
  CHECK(after.assumed.size() + 3 == before.assumed.size());
  CHECK(after.slip->last_load_angle == before.slip->last_load_angle);
  CHECK(after.accuracy.part == before.accuracy.part);
}

TEST_CASE("read case: one of the three counts follows from the others", "[cases][read_case]") {
  const std::size_t line = GENERATE(2U, 3U, 4U);
  const Case c = read(with_line(short_case, line, ""));
  CHECK(c.gear.sun->pole_pairs == 4);
  CHECK(c.gear.modulator->pole_pieces == 17);
  CHECK(c.gear.ring->pole_pairs == 13);
  CHECK(std::any_of(c.assumed.begin(), c.assumed.end(), [](const Assumed& a) {
    return a.key.find("pole_p") != std::string::npos && a.key.rfind("gear.", 0) == 0;
  }));
}

TEST_CASE("read case: one, two or three members are a case", "[cases][read_case]") {
  const std::string head = "[gear]\nstack_length_mm = 10\n";
  const std::string sun =
      "[sun.magnets]\ngrade = \"N42\"\ninner_radius_mm = 10\nouter_radius_mm = 20\n";
  const std::string ring =
      "[ring.magnets]\ngrade = \"N42\"\ninner_radius_mm = 22\nouter_radius_mm = 30\n";
  SECTION("a sun alone") {
    const Case c = read(head + "sun_pole_pairs = 2\n" + sun);
    CHECK(c.gear.sun);
    CHECK_FALSE(c.gear.ring);
    CHECK_FALSE(c.slip);
    CHECK_FALSE(c.running);
  }
  SECTION("a coupling slips but has nothing that runs in another ratio") {
    const Case c = read(head + "sun_pole_pairs = 2\nring_pole_pairs = 2\n" + sun + ring);
    CHECK(c.slip);
    CHECK_FALSE(c.running);
  }
  SECTION("pole pieces alone in a field from outside") {
    const Case c = read(head +
                        "pole_pieces = 6\n[modulator]\nmaterial = \"ideal iron\"\n"
                        "inner_radius_mm = 10\nouter_radius_mm = 20\n"
                        "[field]\napplied_T = 0.5\napplied_direction_deg = 90\n");
    CHECK(c.gear.modulator);
    CHECK_THAT(c.applied_field.y(), WithinRel(0.5, 1e-15));
    CHECK(std::abs(c.applied_field.x()) < 1e-16);  // round-off of cos 90°
    CHECK(c.gear.modulator->material == ideal_iron_name);
  }
}

TEST_CASE("read case: the seat is where a block lies", "[cases][read_case]") {
  const Case c = read(block_case);
  const auto& sun = std::get<BlockMagnets>(c.gear.sun->shape);
  const auto& ring = std::get<BlockMagnets>(c.gear.ring->shape);
  CHECK_THAT(sun.centre_radius, WithinRel(0.0482, 1e-14));   // 45.7 + 5/2 mm, round-off
  CHECK_THAT(ring.centre_radius, WithinRel(0.0647, 1e-14));  // 67.2 − 5/2 mm, round-off
  CHECK(n_magnets(*c.gear.sun) == 24);
  CHECK(n_magnets(*c.gear.ring) == 38);
  CHECK_FALSE(sun.turned_to_pattern);
}

TEST_CASE("read case: steel beside blocks takes a radius that can be meshed",
          "[cases][read_case]") {
  std::string text = block_case;
  text +=
      "[sun.hub]\nmaterial = \"S235\"\n[ring.back_iron]\nmaterial = \"S235\"\n"
      "outer_radius_mm = 75\n";
  const Case c = read(text);
  // 45.7 mm less 0.1 mm clearance; corners of the pockets at hypot(67.3, 5.1) = 67.493 mm.
  CHECK(c.gear.sun->iron->outer_radius == 0.0456);
  CHECK(c.gear.ring->iron->inner_radius == 0.0675);
}

TEST_CASE("read case: the patterns a file can name", "[cases][read_case]") {
  SECTION("parallel by default") {
    CHECK(std::holds_alternative<AlternatingParallel>(read(short_case).gear.sun->pattern));
  }
  SECTION("radial") {
    const Case c = read(with_line(short_case, 20, "pattern = \"alternating radial\""));
    CHECK(std::holds_alternative<AlternatingRadial>(c.gear.ring->pattern));
  }
  SECTION("stepped Halbach") {
    const Case c = read(with_line(short_case, 20,
                                  "pattern = \"halbach\"\nsegments_per_pole_pair = 8\n"
                                  "stronger_side = \"outward\"\npole_centre = \"on joint\""));
    const auto& halbach = std::get<SteppedHalbach>(c.gear.ring->pattern);
    CHECK(halbach.segments_per_pole_pair == 8);
    CHECK(halbach.stronger == FluxSide::outward);
    CHECK(halbach.pole_centre == PoleCentre::on_joint);
  }
  SECTION("continuous Halbach") {
    const Case c = read(with_line(short_case, 20, "pattern = \"continuous halbach\""));
    CHECK(std::get<ContinuousHalbach>(c.gear.ring->pattern).stronger == FluxSide::inward);
  }
  SECTION("a list of directions") {
    const Case c = read(
        with_line(short_case, 20, "pattern = \"directions\"\ndirections_deg = [0, 90, 180, 270]"));
    const auto& list = std::get<DirectionList>(c.gear.ring->pattern);
    REQUIRE(list.directions.size() == 4);
    CHECK_THAT(list.directions[1], WithinRel(pi / 2, 1e-15));  // round-off
    CHECK(list.magnets_per_pole_pair == 4);
  }
  SECTION("a Halbach ring of stock blocks turns each block in its pocket") {
    const Case c = read(
        with_line(with_line(block_case, 11, "centre_radius_mm = 46"), 12, "pattern = \"halbach\""));
    CHECK(std::get<BlockMagnets>(c.gear.sun->shape).turned_to_pattern);
  }
}

TEST_CASE("read case: odd magnets are reversed, weak, turned or missing", "[cases][read_case]") {
  const Case c = read(with_more(short_case,
                                "[[sun.odd_magnet]]\nindex = 0\nmissing = true\n"
                                "[[sun.odd_magnet]]\nindex = 1\nreversed = true\n"
                                "strength_percent = 80\n"
                                "[[ring.odd_magnet]]\nindex = 3\nturned_deg = 5"));
  REQUIRE(c.gear.sun->odd_magnets.size() == 2);
  CHECK(c.gear.sun->odd_magnets[0].missing);
  CHECK(c.gear.sun->odd_magnets[1].strength == -0.8);
  CHECK_THAT(c.gear.ring->odd_magnets.at(0).turned, WithinRel(from_deg(5), 1e-15));
  CHECK(c.running->full_cycle);
}

TEST_CASE("read case: a case is named after its folder", "[cases][read_case]") {
  const std::string path = std::string(LODEGEAR_SOURCE_DIR) + "/cases/standard/case.toml";
  CHECK(read_case(path).path == path);
  CHECK(read_case_text(short_case, "my_folder/case.toml").name == "my_folder");
  CHECK(read_case_text(short_case, "my_gear.toml").name == "my_gear");
}

TEST_CASE("read case: the example cases read", "[cases][read_case]") {
  int n = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(LODEGEAR_SOURCE_DIR) + "/cases")) {
    if (!std::filesystem::exists(entry.path() / "case.toml")) continue;
    const Case c = read_case(entry.path() / "case.toml");
    INFO(entry.path());
    CHECK(c.slip.has_value());
    CHECK(c.running.has_value());
    CHECK(check_gear(c.gear).empty());
    ++n;
  }
  CHECK(n >= 6);
}

TEST_CASE("read case: blocks magnetised along their width are turned by a quarter",
          "[cases][read_case]") {
  const Case c = read(with_line(with_line(block_case, 11, "centre_radius_mm = 46"), 12,
                                "magnetised_along = \"width\""));
  CHECK(std::get<BlockMagnets>(c.gear.sun->shape).turned_to_pattern);
  CHECK_THAT(std::abs(body_angle(*c.gear.sun, 0)), WithinRel(pi / 2, 1e-12));  // round-off
}

TEST_CASE("read case: the two suns differ in their pattern alone", "[cases][read_case]") {
  const std::string folder = std::string(LODEGEAR_SOURCE_DIR) + "/cases/";
  const Case plain = read_case(folder + "plain_sun/case.toml");
  const Case halbach = read_case(folder + "halbach_sun/case.toml");
  CHECK(n_magnets(*plain.gear.sun) == 18);
  CHECK(n_magnets(*halbach.gear.sun) == 18);
  CHECK(plain.gear.sun->inner_radius == halbach.gear.sun->inner_radius);
  CHECK(plain.gear.sun->outer_radius == halbach.gear.sun->outer_radius);
  CHECK(plain.gear.sun->magnet == halbach.gear.sun->magnet);
  CHECK(plain.gear.ring->outer_radius == halbach.gear.ring->outer_radius);
}

TEST_CASE("read case: the demo has running clearances of a millimetre", "[cases][read_case]") {
  const Case c = read_case(std::string(LODEGEAR_SOURCE_DIR) + "/cases/vat_stirrer/case.toml");
  const GapClearance inner = gap_clearance(c.gear, Gap::inner);
  const GapClearance outer = gap_clearance(c.gear, Gap::outer);
  CHECK(inner.running_inner >= 0.8e-3);  // what a lathe and a printed cage hold with ease
  CHECK(inner.running_outer >= 0.8e-3);
  CHECK(outer.running_outer >= 0.8e-3);
  // 54 mm less hypot(50.7, 5) mm, computed by hand: 3.054 mm between magnets and pole pieces.
  CHECK_THAT(inner.magnetic, WithinRel(3.0540e-3, 1e-4));  // the digits given
}
