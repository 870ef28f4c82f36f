// tests/mesh/check_gear_test.cpp — gears that cannot be, and what is said about them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/check_gear.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "gears.h"

using namespace lodegear;

namespace {

/// A gear made impossible, the entry blamed and a piece of the sentence.
struct Impossible {
  std::string name;
  std::function<void(Gear&)> change;
  std::string key;
  std::string says;
};

void blocks_on_sun(Gear& g, const BlockMagnets& blocks) {
  g.sun->shape = blocks;
  g.sun->pattern = AlternatingParallel{};
}

SectorPole& pole_of(Gear& g) { return std::get<SectorPole>(g.modulator->shape); }

const double nan = std::numeric_limits<double>::quiet_NaN();

std::vector<Impossible> impossible_counts() {
  return {
      {"no member", [](Gear& g) { g = Gear{}; }, "gear", "has no member"},
      {"wrong number of pole pieces", [](Gear& g) { g.modulator = sectors(18, 31 * mm, 37 * mm); },
       "gear.pole_pieces", "is 18, but 4 and 13 pole pairs work together only through 17"},
      {"no pole pairs", [](Gear& g) { g.sun->pole_pairs = 0; }, "gear.sun_pole_pairs", "is 0"},
      {"too many pole pairs", [](Gear& g) { g.ring->pole_pairs = 100000; }, "gear.ring_pole_pairs",
       "give 1 to 1000"},
      {"no pole pieces", [](Gear& g) { g.modulator->pole_pieces = 0; }, "gear.pole_pieces",
       "is 0; give 1"},
      {"one segment a pole pair", [](Gear& g) { g.sun->pattern = SteppedHalbach{1}; },
       "sun.magnets.segments_per_pole_pair", "at least 2 segments"},
      {"a list that does not go in",
       [](Gear& g) {
         g.sun->pattern = DirectionList{{0.0, 1.0, 2.0}, 4};
       },
       "sun.magnets.directions_deg", "has 3 entries, which do not go evenly into the 16 magnets"},
      {"an empty list",
       [](Gear& g) {
         g.sun->pattern = DirectionList{{}, 4};
       },
       "sun.magnets.directions_deg", "is empty"},
      {"an odd magnet too many",
       [](Gear& g) {
         g.ring->odd_magnets.resize(2);
         g.ring->odd_magnets[1].index = 52;
       },
       "ring.odd_magnet[2].index",
       "is 52, but the 52 magnets of the ring are numbered from 0 to 51"},
      {"Halbach spokes",
       [](Gear& g) {
         g.sun->shape = SpokeMagnets{3 * mm, "steel"};
       },
       "sun.magnets.pattern", "point in turn"},
      {"continuous Halbach of blocks",
       [](Gear& g) {
         blocks_on_sun(g, block(5 * mm, 4 * mm, 27 * mm));
         g.sun->pattern = ContinuousHalbach{};
       },
       "sun.magnets.pattern", "only an unbroken ring"},
      {"radial blocks",
       [](Gear& g) {
         blocks_on_sun(g, block(5 * mm, 4 * mm, 27 * mm));
         g.sun->pattern = AlternatingRadial{};
       },
       "sun.magnets.pattern", "one direction all over"},
  };
}

std::vector<Impossible> impossible_magnets() {
  return {
      {"magnets inside out", [](Gear& g) { g.sun->outer_radius = 23.5 * mm; },
       "sun.magnets.outer_radius_mm", "is 23.5 mm, no more than the inner radius 24 mm"},
      {"no inner radius", [](Gear& g) { g.sun->inner_radius = 0.0; }, "sun.magnets.inner_radius_mm",
       "is 0 mm; it must be more than nothing"},
      {"a radius that is no number", [](Gear& g) { g.ring->outer_radius = nan; },
       "ring.magnets.outer_radius_mm", ""},
      {"coverage above one", [](Gear& g) { g.sun->shape = ArcMagnets{1.2}; },
       "sun.magnets.coverage_percent", "is 120"},
      {"a joint thinner than a hair's hair", [](Gear& g) { g.sun->shape = ArcMagnets{1.0 - 1e-6}; },
       "sun.magnets.coverage_percent", "slits thinner than 0.001 mm"},
      {"continuous Halbach with gaps",
       [](Gear& g) {
         g.sun->pattern = ContinuousHalbach{};
         g.sun->shape = ArcMagnets{0.9};
       },
       "sun.magnets.coverage_percent", "has no joints"},
      {"blocks wider than their place",
       [](Gear& g) { blocks_on_sun(g, block(21 * mm, 3 * mm, 26 * mm)); }, "sun.magnets.width_mm",
       "overlap by"},
      {"clearances that overlap",
       [](Gear& g) { blocks_on_sun(g, block(19.8 * mm, 0.8 * mm, 24.6 * mm, 0.6 * mm)); },
       "sun.magnets.width_mm", "with 0.6 mm of clearance on every side"},
      {"side by side too near",
       [](Gear& g) {
         BlockMagnets b = block(5 * mm, 3 * mm, 26 * mm);
         b.blocks_per_pole = 2;
         b.block_pitch = 8 * degree;
         blocks_on_sun(g, b);
       },
       "sun.magnets.block_pitch_deg", "between magnets"},
      {"corners out of the band",
       [](Gear& g) { blocks_on_sun(g, block(12 * mm, 5 * mm, 27 * mm)); },
       "sun.magnets.centre_radius_mm", "puts the corners of the blocks at 30.104 mm"},
      {"blocks below the band", [](Gear& g) { blocks_on_sun(g, block(5 * mm, 5 * mm, 26 * mm)); },
       "sun.magnets.centre_radius_mm", "puts the inner face of the blocks at 23.5 mm"},
      {"several Halbach blocks a pole",
       [](Gear& g) {
         BlockMagnets b = block(3 * mm, 3 * mm, 27 * mm);
         b.blocks_per_pole = 2;
         g.sun->shape = b;
       },
       "sun.magnets.blocks_per_pole", "only alternating poles"},
      {"a block of no thickness", [](Gear& g) { blocks_on_sun(g, block(5 * mm, 0.0, 26 * mm)); },
       "sun.magnets.thickness_mm", "is 0 mm"},
      {"negative clearance",
       [](Gear& g) { blocks_on_sun(g, block(5 * mm, 3 * mm, 26 * mm, -0.1 * mm)); },
       "sun.magnets.clearance_mm", "is -0.1 mm"},
      {"spokes that meet",
       [](Gear& g) {
         g.sun->pattern = AlternatingParallel{};
         g.sun->shape = SpokeMagnets{19 * mm, "steel"};
       },
       "sun.magnets.width_mm", "is 19 mm, but 8 spokes have 18.3688 mm each"},
      {"a hub in the magnets", [](Gear& g) { g.sun->iron->outer_radius = 25 * mm; },
       "sun.hub.outer_radius_mm", "is 25 mm, but the magnets begin at 24 mm; steel and magnets"},
      {"a hub inside out", [](Gear& g) { g.sun->iron->inner_radius = 24.5 * mm; },
       "sun.hub.outer_radius_mm", "no more than the inner radius 24.5 mm"},
      {"pockets through the back iron",
       [](Gear& g) {
         g.ring->shape = block(3 * mm, 4 * mm, 41 * mm, 0.1 * mm);
         g.ring->pattern = AlternatingParallel{};
         g.ring->iron = Iron{42 * mm, 43 * mm, "steel"};
       },
       "ring.back_iron.outer_radius_mm", "is 43 mm, but the blocks and their clearance reach to"},
      {"pockets through a hollow hub",
       [](Gear& g) {
         blocks_on_sun(g, block(5 * mm, 3 * mm, 26 * mm, 0.1 * mm));
         g.sun->iron = Iron{24.5 * mm, 26 * mm, "steel"};
       },
       "sun.hub.inner_radius_mm", "would break through the steel"},
      {"back iron in the magnets",
       [](Gear& g) {
         g.ring->iron = Iron{43 * mm, 48 * mm, "steel"};
       },
       "ring.back_iron.inner_radius_mm", "is 43 mm, but the magnets reach to 44 mm"},
  };
}

std::vector<Impossible> impossible_modulators() {
  return {
      {"pole pieces inside out", [](Gear& g) { g.modulator->outer_radius = 30 * mm; },
       "modulator.outer_radius_mm", "no more than the inner radius 31 mm"},
      {"no slot", [](Gear& g) { pole_of(g).span_inner = 22 * degree; }, "modulator.span_inner_deg",
       "is 22°, but 17 pole pieces have 21.176° each"},
      {"no span", [](Gear& g) { pole_of(g).span_outer = 0.0; }, "modulator.span_outer_deg",
       "is 0°"},
      {"corners too round", [](Gear& g) { pole_of(g).corner_outer = 4 * mm; },
       "modulator.corner_radius_outer_mm", "is 4 mm, more than the pole piece has room for"},
      {"corners that meet on the sides",
       [](Gear& g) {
         pole_of(g) = sector_pole(20 * degree, 20 * degree);
         pole_of(g).corner_inner = pole_of(g).corner_outer = 3.5 * mm;
       },
       "modulator.corner_radius_outer_mm", "together more than the sides"},
      {"a hole too wide",
       [](Gear& g) {
         pole_of(g).hole = RodHole{7 * mm, 34 * mm};
       },
       "modulator.hole_diameter_mm", "only 6 mm fits"},
      {"a hole outside",
       [](Gear& g) {
         pole_of(g).hole = RodHole{1 * mm, 38 * mm};
       },
       "modulator.hole_diameter_mm", "outside the pole piece"},
      {"a bridge as thick as the piece",
       [](Gear& g) {
         g.modulator->bridge = Bridge{BridgePlace::inner, 6 * mm};
       },
       "modulator.bridge.thickness_mm", "is 6 mm, but the pole pieces are only 6 mm high"},
      {"bars that meet",
       [](Gear& g) {
         g.modulator->inner_radius = 27 * mm;
         g.modulator->outer_radius = 41 * mm;
         g.modulator->shape = RoundBar{13 * mm, 34 * mm};
       },
       "modulator.bar_diameter_mm", "is 13 mm, but 17 bars at a centre radius of 34 mm have"},
      {"bars out of the band",
       [](Gear& g) {
         g.modulator->shape = RoundBar{6 * mm, 35 * mm};
       },
       "modulator.centre_radius_mm", "then reach from 32 mm to 38 mm"},
      {"stacking above one", [](Gear& g) { g.modulator->stacking_factor = 1.1; },
       "modulator.stacking_factor", "is 1.1"},
  };
}

std::vector<Impossible> impossible_gaps() {
  return {
      {"no outer gap", [](Gear& g) { g.modulator->outer_radius = 38.1 * mm; },
       "modulator.outer_radius_mm",
       "leaves no outer gap: the modulator reaches to 38.1 mm and the ring begins at 38 mm"},
      {"touching members", [](Gear& g) { g.sun->outer_radius = 31 * mm; },
       "sun.magnets.outer_radius_mm", "leaves no inner gap"},
      {"a gap too thin", [](Gear& g) { g.sun->outer_radius = 30.995 * mm; },
       "sun.magnets.outer_radius_mm", "of 0.005 mm only"},
      {"corners of blocks in the gap",
       [](Gear& g) {
         blocks_on_sun(g, block(14 * mm, 5 * mm, 27 * mm));
         g.sun->outer_radius = 32 * mm;
         g.modulator->inner_radius = 30.3 * mm;
       },
       "sun.magnets.centre_radius_mm", "the sun reaches to 30.3191 mm"},
      {"a sleeve in the magnets",
       [](Gear& g) {
         g.sleeves.push_back({Gap::inner, 29.9 * mm, 30.4 * mm, "can", TurnsWith::housing});
       },
       "sleeve[1].inner_radius_mm", "overlaps"},
      {"a sleeve that rubs",
       [](Gear& g) {
         g.sleeves.push_back({Gap::inner, 30 * mm, 30.4 * mm, "can", TurnsWith::housing});
       },
       "sleeve[1].inner_radius_mm", "no running clearance"},
      {"a sleeve in the other member",
       [](Gear& g) {
         g.sleeves.push_back({Gap::outer, 37.5 * mm, 38.2 * mm, "can", TurnsWith::housing});
       },
       "sleeve[1].outer_radius_mm", "the ring begins at 38 mm"},
      {"sleeves in each other",
       [](Gear& g) {
         g.sleeves = {{Gap::inner, 30.2 * mm, 30.5 * mm, "can", TurnsWith::housing},
                      {Gap::inner, 30.4 * mm, 30.8 * mm, "can", TurnsWith::housing}};
       },
       "sleeve[2].inner_radius_mm", "sleeve 1 reaches to 30.5 mm"},
      {"a sleeve inside out",
       [](Gear& g) {
         g.sleeves.push_back({Gap::inner, 30.5 * mm, 30.2 * mm, "can", TurnsWith::housing});
       },
       "sleeve[1].outer_radius_mm", "no more than the inner radius"},
      {"a sleeve on a member that is not there",
       [](Gear& g) {
         g.ring.reset();
         g.sleeves.push_back({Gap::inner, 30.2 * mm, 30.5 * mm, "can", TurnsWith::ring});
       },
       "sleeve[1].turns_with", "does not have"},
      {"a slit beside a sleeve",
       [](Gear& g) {
         g.sleeves.push_back({Gap::inner, 30.0001 * mm, 30.4 * mm, "can", TurnsWith::sun});
       },
       "sleeve[1].inner_radius_mm", "a slit of 0.0001 mm"},
      {"sleeves that fill the gap",
       [](Gear& g) {
         g.sleeves = {{Gap::inner, 30 * mm, 30.5 * mm, "can", TurnsWith::sun},
                      {Gap::inner, 30.502 * mm, 31 * mm, "can", TurnsWith::modulator}};
       },
       "sleeve[1].outer_radius_mm", "no clear part"},
  };
}

void check_each(const std::vector<Impossible>& list) {
  for (const Impossible& wrong : list) {
    Gear gear = standard_gear();
    wrong.change(gear);
    const auto complaints = check_gear(gear);
    INFO(wrong.name);
    std::string all;
    bool found = false;
    for (const Complaint& c : complaints) {
      all += to_string(c) + "\n";
      found |= c.key == wrong.key && c.text.find(wrong.says) != std::string::npos;
    }
    INFO(all);
    CHECK(found);
  }
}

}  // namespace

TEST_CASE("check gear: a gear that can be built is not complained about", "[mesh][check_gear]") {
  CHECK(check_gear(standard_gear()).empty());
  CHECK(check_gear(ideal_iron_gear()).empty());
}

TEST_CASE("check gear: wrong counts and patterns are told", "[mesh][check_gear]") {
  check_each(impossible_counts());
}
TEST_CASE("check gear: magnets and steel that cannot be are told", "[mesh][check_gear]") {
  check_each(impossible_magnets());
}
TEST_CASE("check gear: pole pieces that cannot be are told", "[mesh][check_gear]") {
  check_each(impossible_modulators());
}
TEST_CASE("check gear: gaps and sleeves that cannot be are told", "[mesh][check_gear]") {
  check_each(impossible_gaps());
}

TEST_CASE("check gear: several mistakes are told at once", "[mesh][check_gear]") {
  Gear gear = standard_gear();
  gear.sun->outer_radius = 20 * mm;
  gear.modulator->outer_radius = 20 * mm;
  gear.ring->outer_radius = 20 * mm;
  CHECK(check_gear(gear).size() == 3);
}
