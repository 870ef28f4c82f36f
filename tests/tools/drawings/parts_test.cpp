// tests/tools/drawings/parts_test.cpp — counts, masses and what the bench should show.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <map>

#include "cases/probe.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "cases/slip_figures.h"
#include "cases/thermal_of_case.h"
#include "tests/mesh/gears.h"
#include "tests/support/small_case.h"
#include "tools/drawings/bench_sheet.h"
#include "tools/drawings/parts_list.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

Case example(const std::string& name) {
  return read_case(std::string(LODEGEAR_SOURCE_DIR) + "/cases/" + name + "/case.toml");
}

const ListedPart& the(const std::vector<ListedPart>& list, const std::string& member,
                      const std::string& part) {
  for (const ListedPart& p : list)
    if (p.member == member && p.part == part) return p;
  throw std::runtime_error("no " + part);
}

}  // namespace

TEST_CASE("parts: sixty-two equal stock blocks for sun and ring, weighed by hand",
          "[tools][drawings][parts]") {
  const Case c = example("vat_stirrer");
  DrawOptions options;
  options.sun_magnet_price = 2.0;
  options.ring_magnet_price = 3.0;
  const auto list = parts_list(c, options);
  const ListedPart &sun = the(list, "sun", "magnet"), &ring = the(list, "ring", "magnet");
  CHECK(sun.count == 24);
  CHECK(ring.count == 38);
  CHECK(sun.description == "block 10 × 5 × 40 mm, magnetised through 5 mm");
  CHECK(sun.description == ring.description);
  // 10 × 5 × 40 mm of 7500 kg/m³, the density materials/magnets gives for N42SH.
  CHECK_THAT(*sun.mass, WithinRel(2e-6 * 7500, 1e-9));
  const Files files = parts_files(c, options);
  CHECK_THAT(files[1].second, Contains("62 × N42SH, block 10 × 5 × 40 mm"));
  CHECK_THAT(files[1].second, Contains("together 162 at the prices given"));  // 24·2 + 38·3
}

TEST_CASE("parts: laminations are the stack's steel over the sheet's thickness",
          "[tools][drawings][parts]") {
  Case c = example("vat_stirrer");
  const double factor = c.steels.at(c.gear.modulator->material).stacking_factor;
  CHECK(sheets_in_stack(c) == std::lround(40 * factor / 0.5));  // 40 mm of 0.5 mm sheet
  CHECK(the(parts_list(c, {}), "modulator", "lamination").count == 23 * sheets_in_stack(c));
  c.steels.at(c.gear.modulator->material).material.thickness = 0.0;
  CHECK(sheets_in_stack(c) == 0);
  CHECK(the(parts_list(c, {}), "modulator", "pole piece").count == 23);
}

TEST_CASE("parts: the list weighs as much as the meshes that the field is solved on",
          "[tools][drawings][parts][slow]") {
  for (const char* name : {"vat_stirrer", "halbach_sun", "bridged", "back_irons"}) {
    INFO(name);
    const Case c = example(name);
    CaseResult gear;
    gear.input = c;
    gear.solver = prepared_case(c).solver;
    double meshed = 0.0, listed = 0.0;
    for (const PartMass& part : active_masses(gear)) meshed += part.count * part.one;
    for (const ListedPart& part : parts_list(c, {})) listed += part.count * part.mass.value_or(0.0);
    // Whole sheets: half a sheet of 58 is 1 % of the modulator, itself a tenth of the gear.
    CHECK_THAT(listed, WithinRel(meshed, 2e-3));
  }
}

TEST_CASE("parts: north out and north in are two orders for arcs, one for blocks",
          "[tools][drawings][parts]") {
  std::map<std::string, int> orders;
  for (const ListedPart& p : parts_list(example("halbach_sun"), {}))
    if (p.part == "magnet" && p.member == "sun") orders[p.description] = p.count;
  // Six segments a pole pair, three pole pairs: out, in, and 60° and 120° off, which turned end for
  // end are their own mirror images.
  REQUIRE(orders.size() == 4);
  CHECK(orders["arc R 26 / r 18, 20°, 30 mm long, magnetised straight, north out"] == 3);
  CHECK(orders["arc R 26 / r 18, 20°, 30 mm long, magnetised straight, 60° off its middle line"] ==
        6);
}

TEST_CASE("parts: the strongest pull of a 10 by 40 mm face at 1.3 T is 269 N",
          "[tools][drawings][parts]") {
  // B²A/2µ0, Jackson, Classical Electrodynamics, §5.16 (stress normal to a surface), by hand.
  CHECK_THAT(strongest_pull(1.3, 400e-6), WithinRel(268.98, 1e-4));
}

TEST_CASE("bench sheet: one newton metre on an arm of half a metre is 204 g",
          "[tools][drawings][bench]") {
  CHECK_THAT(mass_on_arm(1.0, 0.5), WithinRel(0.203943, 1e-5));  // 1/(9.80665·0.5)
}

TEST_CASE("bench sheet: the field in the gap is the probe's", "[tools][drawings][bench]") {
  Case c = read_case_text(small_case, "small.toml");
  CaseResult gear;
  gear.input = c;
  gear.solver = prepared_case(c).solver;
  const auto readings = gap_readings(gear);
  REQUIRE(readings.size() == 2);
  FieldSolution solution = gear.solver->solve(start_position(c.gear));
  gear.solver->fill_potentials(solution);
  const Probe probe(gear.solver->problem(), solution);
  for (const GapReading& r : readings) {
    const Eigen::Vector2d out(std::cos(r.angle), std::sin(r.angle));
    const auto b = probe.flux_density_at(r.radius * out);
    REQUIRE(b);
    CHECK_THAT(std::abs(b->dot(out)), WithinRel(r.peak, 1e-9));
    CHECK(r.mean < r.peak);
  }
}

TEST_CASE("bench sheet: torques on the three members stand as the speed ratios and add up to none",
          "[tools][drawings][bench]") {
  Validation v;
  v.gear.slip_torque = SlipTorque{};
  v.gear.slip_torque->peak = {4.0, 17.0, 13.0};
  v.drive.output = Member::modulator;
  v.drive.input = Member::sun;
  v.drive.held = Member::ring;
  v.slip_torque = {13.6, 12.0, 15.0};  // the ends leave 0.8
  const auto readings = arm_readings(v);
  REQUIRE(readings.size() == 3);
  CHECK(readings[0].member == Member::modulator);
  CHECK_THAT(readings[1].slip.expected, WithinRel(3.2, 1e-12));
  CHECK_THAT(readings[2].slip.low, WithinRel(12.0 * 13 / 17, 1e-12));
  CHECK(!readings[0].cogging);
}
