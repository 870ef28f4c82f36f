// cases/read_magnets.cpp — [sun.magnets] and [ring.magnets]: shapes and patterns.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "cases/read_gear.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

enum class ShapeWord { arcs, blocks, spokes };
enum class PatternWord { parallel, radial, halbach, continuous, directions };

bool alternating(PatternWord word) {
  return word == PatternWord::parallel || word == PatternWord::radial;
}

// ---- patterns -----------------------------------------------------------------------------------

PatternWord read_pattern_word(TableReader& table, ShapeWord shape) {
  if (shape == ShapeWord::spokes) {
    refuse(
        table, {"pattern"},
        "cannot be chosen with shape = \"spokes\": spoke magnets point in turn along the circle.");
    return PatternWord::parallel;
  }
  const auto word = table.choice_or<PatternWord>("pattern", "alternating parallel",
                                                 {{"alternating parallel", PatternWord::parallel},
                                                  {"alternating radial", PatternWord::radial},
                                                  {"halbach", PatternWord::halbach},
                                                  {"continuous halbach", PatternWord::continuous},
                                                  {"directions", PatternWord::directions}});
  if (shape == ShapeWord::blocks && word == PatternWord::radial)
    table.complain(
        "pattern",
        "is \"alternating radial\", but a block is magnetised in one direction all over; "
        "use \"alternating parallel\", or shape = \"arcs\".");
  if (shape == ShapeWord::blocks && word == PatternWord::continuous)
    table.complain("pattern",
                   "is \"continuous halbach\", which only an unbroken ring can have; use "
                   "\"halbach\", or shape = \"arcs\".");
  return word;
}

FluxSide read_side(TableReader& table, Member member) {
  return table.choice_or<FluxSide>("stronger_side", member == Member::sun ? "outward" : "inward",
                                   {{"outward", FluxSide::outward}, {"inward", FluxSide::inward}});
}

DirectionList read_directions(TableReader& table) {
  DirectionList list;
  for (const double degrees : table.numbers("directions_deg", angle_range))
    list.directions.push_back(from_deg(degrees));
  const int count = static_cast<int>(std::clamp<std::size_t>(list.directions.size(), 1, 64));
  list.magnets_per_pole_pair = table.integer_or("magnets_per_pole_pair", count, 1, 64);
  return list;
}

MagnetPattern read_pattern(TableReader& table, Member member, PatternWord word) {
  MagnetPattern pattern = AlternatingParallel{};
  if (word == PatternWord::radial) pattern = AlternatingRadial{};
  if (word == PatternWord::continuous) pattern = ContinuousHalbach{read_side(table, member)};
  if (word == PatternWord::directions) pattern = read_directions(table);
  if (word == PatternWord::halbach) {
    SteppedHalbach halbach;
    halbach.segments_per_pole_pair = table.integer_or("segments_per_pole_pair", 4, 2, 64);
    halbach.stronger = read_side(table, member);
    halbach.pole_centre = table.choice_or<PoleCentre>(
        "pole_centre", "on segment",
        {{"on segment", PoleCentre::on_segment}, {"on joint", PoleCentre::on_joint}});
    pattern = halbach;
  }
  if (word != PatternWord::halbach)
    refuse(table, {"segments_per_pole_pair", "pole_centre"},
           "belongs to pattern = \"halbach\"; leave it out.");
  if (word != PatternWord::halbach && word != PatternWord::continuous)
    refuse(table, {"stronger_side"}, "belongs to the Halbach patterns; leave it out.");
  if (word != PatternWord::directions)
    refuse(table, {"directions_deg", "magnets_per_pole_pair"},
           "belongs to pattern = \"directions\"; leave it out.");
  return pattern;
}

// ---- shapes -------------------------------------------------------------------------------------

void read_band(TableReader& table, MagnetRotor& rotor) {
  rotor.inner_radius = from_mm(table.number("inner_radius_mm", length_range));
  rotor.outer_radius = from_mm(table.number("outer_radius_mm", length_range));
}

ArcMagnets read_arcs(TableReader& table, PatternWord pattern, MagnetRotor& rotor) {
  read_band(table, rotor);
  const Range range{.least = 0.0, .most = 100.0, .least_open = true};
  const double coverage = table.number_or("coverage_percent", 100.0, range);
  if (pattern == PatternWord::continuous && coverage < 100.0)
    table.complain("coverage_percent",
                   "is " + number_text(coverage) +
                       ", but a continuous Halbach ring has no joints; leave it "
                       "out, or use pattern = \"halbach\".");
  return {coverage / 100.0};
}

/// From centre_radius_mm or seat_radius_mm, m.
double read_centre_radius(TableReader& table, Member member, const BlockMagnets& blocks) {
  const std::string key = table.exactly_one_of({"centre_radius_mm", "seat_radius_mm"});
  if (key.empty()) return 0.0;
  const double radius = from_mm(table.number(key, length_range));
  if (key == "centre_radius_mm") return radius;
  if (blocks.turned_to_pattern)
    table.complain("seat_radius_mm",
                   "has no meaning for blocks that are turned in their pockets; give "
                   "centre_radius_mm.");
  return member == Member::sun ? radius + blocks.thickness / 2 : radius - blocks.thickness / 2;
}

void read_side_by_side(TableReader& table, PatternWord pattern, BlockMagnets& blocks) {
  if (!alternating(pattern)) {
    refuse(table, {"blocks_per_pole", "block_pitch_deg"},
           "belongs to the alternating patterns; leave it out.");
    return;
  }
  blocks.blocks_per_pole = table.integer_or("blocks_per_pole", 1, 1, 64);
  const Range range{.least = 0.0, .most = 180.0, .least_open = true};
  const auto pitch = table.optional_number("block_pitch_deg", range);
  blocks.block_pitch = from_deg(pitch.value_or(0.0));
  if (pitch && blocks.blocks_per_pole == 1)
    table.complain(
        "block_pitch_deg",
        "needs blocks_per_pole of 2 or more: it is the angle between blocks of one pole.");
  if (!pitch && blocks.blocks_per_pole > 1) table.assume("block_pitch_deg", "evenly spread");
}

BlockMagnets read_blocks(TableReader& table, Member member, PatternWord pattern,
                         MagnetRotor& rotor) {
  BlockMagnets blocks;
  blocks.width = from_mm(table.number("width_mm", length_range));
  blocks.thickness = from_mm(table.number("thickness_mm", length_range));
  blocks.clearance = from_mm(table.number_or("clearance_mm", 0.1, length_or_zero));
  blocks.axis = table.choice_or<BlockAxis>(
      "magnetised_along", "thickness",
      {{"thickness", BlockAxis::thickness}, {"width", BlockAxis::width}});
  blocks.turned_to_pattern =
      table.flag_or("turned", !alternating(pattern) || blocks.axis == BlockAxis::width);
  blocks.centre_radius = read_centre_radius(table, member, blocks);
  read_side_by_side(table, pattern, blocks);
  const double half = blocks.turned_to_pattern ? std::hypot(blocks.width, blocks.thickness) / 2
                                               : blocks.thickness / 2;
  rotor.inner_radius = blocks.centre_radius - half;
  rotor.outer_radius = blocks.turned_to_pattern
                           ? blocks.centre_radius + half
                           : std::hypot(blocks.centre_radius + half, blocks.width / 2);
  return blocks;
}

SpokeMagnets read_spokes(TableReader& table, MagnetRotor& rotor) {
  read_band(table, rotor);
  SpokeMagnets spokes;
  spokes.width = from_mm(table.number("width_mm", length_range));
  spokes.wedge_steel = table.text("wedge_material");
  return spokes;
}

void refuse_other_shapes(TableReader& table, ShapeWord shape) {
  if (shape != ShapeWord::arcs)
    refuse(table, {"coverage_percent"}, "belongs to shape = \"arcs\"; leave it out.");
  if (shape == ShapeWord::blocks)
    refuse(table, {"inner_radius_mm", "outer_radius_mm"},
           "belongs to arcs and spokes; blocks are placed by centre_radius_mm or seat_radius_mm.");
  if (shape != ShapeWord::blocks)
    refuse(table,
           {"thickness_mm", "centre_radius_mm", "seat_radius_mm", "clearance_mm",
            "magnetised_along", "turned", "blocks_per_pole", "block_pitch_deg"},
           "belongs to shape = \"blocks\"; leave it out, or write shape = \"blocks\".");
  if (shape == ShapeWord::arcs)
    refuse(table, {"width_mm"},
           "belongs to blocks and spokes; arcs take coverage_percent of the circle.");
  if (shape != ShapeWord::spokes)
    refuse(table, {"wedge_material"}, "belongs to shape = \"spokes\"; leave it out.");
}

}  // namespace

void read_magnets(TableReader& table, Member member, MagnetRotor& rotor) {
  rotor.magnet = table.text("grade");
  rotor.axial_rows = table.integer_or("axial_rows", 1, 1, 1000);
  const auto shape = table.choice_or<ShapeWord>(
      "shape", "arcs",
      {{"arcs", ShapeWord::arcs}, {"blocks", ShapeWord::blocks}, {"spokes", ShapeWord::spokes}});
  const PatternWord pattern = read_pattern_word(table, shape);
  rotor.pattern = read_pattern(table, member, pattern);
  if (shape == ShapeWord::arcs) rotor.shape = read_arcs(table, pattern, rotor);
  if (shape == ShapeWord::blocks) rotor.shape = read_blocks(table, member, pattern, rotor);
  if (shape == ShapeWord::spokes) rotor.shape = read_spokes(table, rotor);
  refuse_other_shapes(table, shape);
}

}  // namespace lodegear
