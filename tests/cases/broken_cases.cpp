// tests/cases/broken_cases.cpp — the table of broken cases.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "broken_cases.h"

#include "case_texts.h"

namespace lodegear {

namespace {

using Pieces = std::vector<std::string>;

/// The 20-line case with one line changed.
BrokenCase line_of_short(const char* mistake, std::size_t number, const char* line,
                         const char* where, const char* key, Pieces pieces, std::size_t count = 1) {
  return {mistake, with_line(short_case, number, line), where, key, std::move(pieces), count};
}

/// The 20-line case with more at its end; line 21 is the first added.
BrokenCase more_of_short(const char* mistake, const char* more, const char* where, const char* key,
                         Pieces pieces, std::size_t count = 1) {
  return {mistake, with_more(short_case, more), where, key, std::move(pieces), count};
}

BrokenCase line_of_blocks(const char* mistake, std::size_t number, const char* line,
                          const char* where, const char* key, Pieces pieces,
                          std::size_t count = 1) {
  return {mistake, with_line(block_case, number, line), where, key, std::move(pieces), count};
}

void add_syntax(std::vector<BrokenCase>& all) {
  all.push_back({"nothing", "", "1:1:", "gear", {"missing", "[gear]"}});
  all.push_back(
      line_of_short("a comma in a number", 5, "stack_length_mm = 25,5", "5:", "", {"dot"}));
  all.push_back(
      line_of_short("a unit behind a number", 5, "stack_length_mm = 25 mm", "5:", "", {}));
  all.push_back(line_of_short("no quotes", 9, "grade = N42", "9:", "", {}));
  all.push_back(line_of_short("an unclosed text", 9, "grade = \"N42", "9:", "", {}));
  all.push_back(line_of_short("an unclosed table", 12, "[modulator", "12:", "", {}));
  all.push_back(line_of_short("a key twice", 11, "inner_radius_mm = 30", "11:", "", {}));
  all.push_back(line_of_short("a table twice", 16, "[sun.magnets]", "16:", "", {}));
  all.push_back(line_of_short("no value", 10, "inner_radius_mm =", "10:", "", {}));
  all.push_back(line_of_short("a bare word", 10, "24", "10:", "", {}));
}

void add_unknown(std::vector<BrokenCase>& all) {
  all.push_back(line_of_short("a misspelt key", 10, "iner_radius_mm = 24",
                              "8:1:", "sun.magnets.inner_radius_mm", {"missing"}, 2));
  all.push_back(more_of_short("a misspelt optional key", "segments_per_polepair = 4",
                              "21:1:", "ring.magnets.segments_per_polepair",
                              {"did you mean segments_per_pole_pair?"}));
  all.push_back(more_of_short("a misspelt table", "[runing]\nheld = \"ring\"", "21:", "runing",
                              {"did you mean running?"}));
  all.push_back(line_of_short("a key of another unit", 5, "stack_length_cm = 2.5", "5:1:",
                              "gear.stack_length_cm", {"did you mean stack_length_mm?"}, 2));
  all.push_back(more_of_short("a key in the wrong table", "span_percent = 50", "21:1:",
                              "ring.magnets.span_percent", {"not a key that is known here"}));
  all.push_back(more_of_short("a hub on the ring", "[ring.hub]\nmaterial = \"S235\"",
                              "21:", "ring.hub", {"belongs to the sun", "[ring.back_iron]"}));
  all.push_back(more_of_short("a back iron on the sun", "[sun.back_iron]\nmaterial = \"S235\"",
                              "21:", "sun.back_iron", {"belongs to the ring", "[sun.hub]"}));
  all.push_back(more_of_short("a misspelt key in a task", "[slip]\nturnd = \"ring\"",
                              "22:1:", "slip.turnd", {"did you mean turned?"}));
}

void add_values(std::vector<BrokenCase>& all) {
  all.push_back(line_of_short("a count with a fraction", 2, "sun_pole_pairs = 4.5",
                              "2:", "gear.sun_pole_pairs", {"4.5", "whole number"}));
  all.push_back(line_of_short("a count in quotes", 3, "pole_pieces = \"17\"",
                              "3:", "gear.pole_pieces", {"text", "whole number"}));
  all.push_back(line_of_short("no pole pairs at all", 2, "sun_pole_pairs = 0",
                              "2:", "gear.sun_pole_pairs", {"is 0", "from 1 to 200"}));
  all.push_back(line_of_short("far too many pole pairs", 4, "ring_pole_pairs = 100000",
                              "4:", "gear.ring_pole_pairs", {"100000", "from 1 to 200"}));
  all.push_back(line_of_short("a negative length", 5, "stack_length_mm = -25",
                              "5:", "gear.stack_length_mm", {"-25", "at least"}));
  all.push_back(line_of_short("a length that is no number", 5, "stack_length_mm = nan",
                              "5:", "gear.stack_length_mm", {"finite"}));
  all.push_back(line_of_short("an infinite radius", 11, "outer_radius_mm = inf",
                              "11:", "sun.magnets.outer_radius_mm", {"finite"}));
  all.push_back(line_of_short("metres instead of millimetres", 11, "outer_radius_mm = 30e6",
                              "11:", "sun.magnets.outer_radius_mm", {"at most 10000"}));
  all.push_back(line_of_short("a number for a text", 9, "grade = 42", "9:", "sun.magnets.grade",
                              {"42", "text"}));
  all.push_back(
      line_of_short("an empty text", 9, "grade = \"\"", "9:", "sun.magnets.grade", {"empty"}));
  all.push_back(line_of_short("a misspelt word", 20, "pattern = \"hallbach\"",
                              "20:", "ring.magnets.pattern", {"Did you mean \"halbach\"?"}));
  all.push_back(more_of_short("a flag in quotes", "[slip]\ncompute = \"yes\"",
                              "22:", "slip.compute", {"true or false"}));
  all.push_back(more_of_short("too few positions", "[slip]\npositions_per_period = 2",
                              "22:", "slip.positions_per_period", {"is 2", "from 8"}));
  all.push_back(more_of_short("a curve that ends before its peak",
                              "[slip]\nlast_load_angle_deg = 45", "22:", "slip.last_load_angle_deg",
                              {"is 45", "at least 90"}));
  all.push_back(more_of_short("angles that are no list", "[running]\nload_angles_deg = 30",
                              "22:", "running.load_angles_deg", {"list of numbers"}));
  all.push_back(more_of_short("an empty list of angles", "[running]\nload_angles_deg = []",
                              "22:", "running.load_angles_deg", {}));
  all.push_back(more_of_short("a word among the angles",
                              "[running]\nload_angles_deg = [0, \"peak\"]",
                              "22:", "running.load_angles_deg[2]", {"number"}));
  all.push_back(more_of_short("a mesh too fine", "[mesh]\nfineness = 100", "22:", "mesh.fineness",
                              {"is 100", "at most 8"}));
  all.push_back(more_of_short("a value where a table is meant", "[output]\n[mesh.fineness]",
                              "22:", "mesh.fineness", {"table", "number"}));
  all.push_back({"a table where a list is meant",
                 with_more(short_case, "[sleeve]\ngap = \"inner\""),
                 "21:",
                 "sleeve",
                 {"[[sleeve]]"}});
  all.push_back({"a value where a member is meant",
                 std::string("sun = 4\n") + R"([gear]
sun_pole_pairs = 4
stack_length_mm = 10
)",
                 "1:",
                 "sun",
                 {"table"}});
}

void add_missing(std::vector<BrokenCase>& all) {
  all.push_back(line_of_short("no length", 5, "", "1:", "gear.stack_length_mm", {"missing"}));
  all.push_back(line_of_short("no grade", 9, "", "8:", "sun.magnets.grade", {"missing"}));
  all.push_back(line_of_short("no material", 13, "", "12:", "modulator.material", {"missing"}));
  all.push_back({"no gear",
                 "[sun.magnets]\ngrade = \"N42\"\ninner_radius_mm = 10\nouter_radius_mm "
                 "= 20\n",
                 "1:",
                 "gear",
                 {"[gear]", "missing"}});
  all.push_back({"no member", "[gear]\nstack_length_mm = 10\n", "1:", "", {"no member", "[sun]"}});
  all.push_back({"a member without its count",
                 "[gear]\nstack_length_mm = 10\n[sun.magnets]\ngrade = \"N42\"\ninner_radius_mm = "
                 "10\nouter_radius_mm = 20\n",
                 "1:",
                 "gear.sun_pole_pairs",
                 {"missing"}});
  all.push_back({"a count without its member",
                 "[gear]\nsun_pole_pairs = 2\nring_pole_pairs = 2\nstack_length_mm = "
                 "10\n[sun.magnets]\ngrade = \"N42\"\ninner_radius_mm = 10\nouter_radius_mm = 20\n",
                 "3:",
                 "gear.ring_pole_pairs",
                 {"no table [ring]"}});
  all.push_back(more_of_short("a bridge without thickness", "[modulator.bridge]\nplace = \"inner\"",
                              "21:", "modulator.bridge.thickness_mm", {"missing"}));
  all.push_back(more_of_short("a hole nowhere", "[modulator.bridge]\nthickness_mm = 0.5", "21:",
                              "modulator.bridge.place", {"\"inner\"", "\"middle\"", "\"outer\""}));
}

void add_together(std::vector<BrokenCase>& all) {
  all.push_back(line_of_short("pole pieces that do not fit the pole pairs", 3, "pole_pieces = 18",
                              "3:1:", "gear.pole_pieces",
                              {"18", "4 sun and 13 ring", "4 + 13 = 17"}));
  all.push_back({"two of three counts missing",
                 with_line(with_line(short_case, 3, ""), 4, ""),
                 "1:",
                 "gear",
                 {"needs two of", "pole_pieces = sun_pole_pairs + ring_pole_pairs"}});
  all.push_back({"fewer pole pieces than pole pairs",
                 with_line(with_line(short_case, 3, "pole_pieces = 3"), 4, ""),
                 "1:",
                 "gear.ring_pole_pairs",
                 {"3 - 4 = -1"}});
  all.push_back(line_of_short("segments without Halbach", 20, "segments_per_pole_pair = 4",
                              "20:", "ring.magnets.segments_per_pole_pair", {"\"halbach\""}));
  all.push_back(line_of_short("directions without the pattern", 20, "directions_deg = [0, 180]",
                              "20:", "ring.magnets.directions_deg", {"\"directions\""}));
  all.push_back(more_of_short("blocks side by side in an arc", "blocks_per_pole = 2",
                              "21:", "ring.magnets.blocks_per_pole", {"shape = \"blocks\""}));
  all.push_back(more_of_short("a width for arcs", "width_mm = 5", "21:", "ring.magnets.width_mm",
                              {"coverage_percent"}));
  all.push_back(line_of_blocks("a radial pattern for blocks", 12,
                               "pattern = \"alternating radial\"", "12:", "sun.magnets.pattern",
                               {"one direction", "\"alternating parallel\""}));
  all.push_back(line_of_blocks("radii for blocks", 12, "inner_radius_mm = 40",
                               "12:", "sun.magnets.inner_radius_mm", {"seat_radius_mm"}));
  all.push_back(line_of_blocks("two places for a block", 12, "centre_radius_mm = 48.2", "11:",
                               "sun.magnets.seat_radius_mm", {"centre_radius_mm", "one of"}));
  all.push_back(line_of_blocks("no place for a block", 11, "", "6:", "sun.magnets",
                               {"one of centre_radius_mm or seat_radius_mm"}));
  all.push_back(line_of_blocks("a seat for turned blocks", 12, "turned = true",
                               "11:", "sun.magnets.seat_radius_mm", {"centre_radius_mm"}));
  all.push_back({"a gap in a continuous ring",
                 with_more(with_line(short_case, 20, "pattern = \"continuous halbach\""),
                           "coverage_percent = 90"),
                 "21:",
                 "ring.magnets.coverage_percent",
                 {"no joints"}});
  all.push_back({"spans told twice",
                 with_line(short_case, 13,
                           "material = \"M470-50A\"\nspan_percent = 50\n"
                           "span_inner_deg = 10"),
                 "14:",
                 "modulator.span_percent",
                 {"span_inner_deg"}});
  all.push_back({"a hole's place without its size",
                 with_line(short_case, 13, "material = \"M470-50A\"\nhole_centre_radius_mm = 34"),
                 "14:",
                 "modulator.hole_centre_radius_mm",
                 {"hole_diameter_mm"}});
  all.push_back(more_of_short("the input is held", "[running]\nheld = \"sun\"\ninput = \"sun\"",
                              "23:", "running.input", {"held"}));
  all.push_back({"running without a modulator",
                 "[gear]\nsun_pole_pairs = 2\nring_pole_pairs = 2\nstack_length_mm = 10\n"
                 "[sun.magnets]\ngrade = \"N42\"\ninner_radius_mm = 10\nouter_radius_mm = 20\n"
                 "[ring.magnets]\ngrade = \"N42\"\ninner_radius_mm = 22\nouter_radius_mm = 30\n"
                 "[running]\ncompute = true\nheld = \"ring\"\n",
                 "14:",
                 "running.compute",
                 {"all of [sun], [modulator] and [ring]"}});
  all.push_back({"turning a member that is not there",
                 "[gear]\nsun_pole_pairs = 2\nring_pole_pairs = 2\nstack_length_mm = 10\n"
                 "[sun.magnets]\ngrade = \"N42\"\ninner_radius_mm = 10\nouter_radius_mm = 20\n"
                 "[ring.magnets]\ngrade = \"N42\"\ninner_radius_mm = 22\nouter_radius_mm = 30\n"
                 "[slip]\nturned = \"modulator\"\n",
                 "14:",
                 "slip.turned",
                 {"no table [modulator]"}});
  all.push_back(more_of_short("an odd magnet that is not odd", "[[sun.odd_magnet]]\nindex = 1",
                              "21:", "sun.odd_magnet[1]", {"missing = true", "turned_deg"}));
  all.push_back(more_of_short("an odd magnet told twice",
                              "[[sun.odd_magnet]]\nindex = 1\nmissing = true\n"
                              "[[sun.odd_magnet]]\nindex = 1\nreversed = true",
                              "25:1:", "sun.odd_magnet[2].index", {"is 1", "one table"}));
  all.push_back(line_of_blocks("a pitch for one block alone", 12, "block_pitch_deg = 12",
                               "12:1:", "sun.magnets.block_pitch_deg", {"blocks_per_pole of 2"}));
  all.push_back(more_of_short("a field through ideal iron",
                              "[ring.back_iron]\nmaterial = \"ideal iron\"\nouter_radius_mm = 50\n"
                              "[field]\napplied_T = 0.1",
                              "25:1:", "field.applied_T", {"ideal iron"}));
  all.push_back(more_of_short("a missing magnet turned",
                              "[[sun.odd_magnet]]\nindex = 1\nmissing = true\nturned_deg = 5",
                              "23:", "sun.odd_magnet[1].missing", {"cannot be"}));
}

void add_materials(std::vector<BrokenCase>& all) {
  all.push_back(line_of_short("a grade nobody knows", 9, "grade = \"N43\"",
                              "9:1:", "sun.magnets.grade", {"no magnet \"N43\"", "N42"}));
  all.push_back(line_of_short("a magnet for a steel", 13, "material = \"N42\"",
                              "13:1:", "modulator.material", {"\"N42\" is a magnet", "steel"}));
  all.push_back(line_of_short("a steel for a magnet", 17, "grade = \"M470-50A\"",
                              "17:1:", "ring.magnets.grade", {"is a steel", "magnet"}));
  all.push_back(line_of_short("grain-oriented sheet of unknown direction", 13,
                              "material = \"M140-30S\"", "12:", "modulator.rolling_direction",
                              {"grain-oriented", "\"radial\""}));
  all.push_back(line_of_short("a rolling direction for plain sheet", 13,
                              "material = \"M470-50A\"\nrolling_direction = \"radial\"",
                              "14:", "modulator.rolling_direction", {"not grain-oriented"}));
  all.push_back(more_of_short("a material of unknown kind", "[materials.mine]\nremanence_T = 1.2",
                              "21:", "materials.mine.kind", {"\"magnet\""}));
  all.push_back(more_of_short("a magnet without remanence", "[materials.mine]\nkind = \"magnet\"",
                              "21:", "materials.mine.remanence_T", {"missing"}));
  all.push_back(more_of_short("a table that falls",
                              "[materials.mine]\nkind = \"steel\"\nsource = \"mine\"\n"
                              "bh_table = [[0, 0], [100, 1.0], [200, 0.9], [5000, 1.6], "
                              "[100000, 2.0]]",
                              "24:", "materials.mine.bh_table", {}));
  all.push_back(more_of_short("a name that is taken",
                              "[materials.air]\nkind = \"other\"\nmu_r = 1.0",
                              "21:", "materials.air", {"meaning of its own"}));
  all.push_back({"one's own magnet as a steel",
                 with_more(with_line(short_case, 13, "material = \"mine\""),
                           "[materials.mine]\nkind = \"magnet\"\nremanence_T = 1.2"),
                 "13:",
                 "modulator.material",
                 {"\"mine\" is a magnet in [materials]"}});
  all.push_back(line_of_blocks("a can of steel", 25, "material = \"S235\"",
                               "25:", "sleeve[1].material", {"is a steel", "non-magnetic"}));
}

void add_geometry(std::vector<BrokenCase>& all) {
  all.push_back(line_of_short("no outer gap", 15, "outer_radius_mm = 38.5",
                              "15:1:", "modulator.outer_radius_mm", {"38.5 mm", "38 mm"}));
  all.push_back(line_of_short("no inner gap", 11, "outer_radius_mm = 31",
                              "11:1:", "sun.magnets.outer_radius_mm", {"31 mm"}));
  all.push_back(line_of_short("radii the wrong way round", 11, "outer_radius_mm = 20",
                              "11:1:", "sun.magnets.outer_radius_mm", {"20 mm", "24 mm"}));
  all.push_back(line_of_short("a hub in the magnets", 7,
                              "material = \"M470-50A\"\nouter_radius_mm = 25",
                              "8:1:", "sun.hub.outer_radius_mm", {"25 mm", "24 mm", "overlap"}));
  all.push_back(line_of_short("spans wider than the pitch", 13,
                              "material = \"M470-50A\"\nspan_inner_deg = 25",
                              "14:1:", "modulator.span_inner_deg", {"25°", "21.176°"}, 2));
  all.push_back(line_of_short("corners rounder than the piece", 13,
                              "material = \"M470-50A\"\ncorner_radius_outer_mm = 9",
                              "14:1:", "modulator.corner_radius_outer_mm", {"9 mm"}));
  all.push_back(line_of_short("a hole larger than the piece", 13,
                              "material = \"M470-50A\"\nhole_diameter_mm = 7",
                              "14:1:", "modulator.hole_diameter_mm", {"7 mm"}));
  all.push_back(more_of_short("an odd magnet that does not exist",
                              "[[sun.odd_magnet]]\nindex = 8\nmissing = true",
                              "22:1:", "sun.odd_magnet[1].index", {"8", "from 0 to 7"}));
  all.push_back(more_of_short("a bridge thicker than the piece",
                              "[modulator.bridge]\nplace = \"inner\"\nthickness_mm = 7",
                              "23:1:", "modulator.bridge.thickness_mm", {"7 mm", "6 mm"}));
  all.push_back(line_of_short("spokes without room", 9,
                              "grade = \"N42\"\nshape = \"spokes\"\nwedge_material = \"S235\"\n"
                              "width_mm = 20",
                              "12:1:", "sun.magnets.width_mm",
                              {"20 mm", "8 spokes", "18.3688 mm"}));
  all.push_back(line_of_blocks("a block that reaches the axis", 11, "seat_radius_mm = 0.01",
                               "11:1:", "sun.magnets.centre_radius_mm", {"reach the axis"}));
  all.push_back(line_of_blocks("blocks too wide for their pockets", 9, "width_mm = 14", "9:1:",
                               "sun.magnets.width_mm", {"14 mm × 5 mm", "0.1 mm", "overlap"}));
  all.push_back(line_of_blocks("blocks that reach into the can", 11, "seat_radius_mm = 47.4",
                               "26:1:", "sleeve[1].inner_radius_mm", {"52 mm", "52.6"}));
  all.push_back(line_of_blocks("a can without clearance", 27, "outer_radius_mm = 54",
                               "27:1:", "sleeve[1].outer_radius_mm", {"54 mm", "clearance"}));
  all.push_back(line_of_blocks("a can inside out", 27, "outer_radius_mm = 51",
                               "27:1:", "sleeve[1].outer_radius_mm", {"51 mm", "52 mm"}));
  all.push_back({"members that do not overlap along the axis",
                 with_line(short_case, 6, "[sun]\naxial_offset_mm = 30\n[sun.hub]"),
                 "7:1:",
                 "sun.axial_offset_mm",
                 {"5 mm"}});
  all.push_back(line_of_short("directions that do not go evenly into the ring", 20,
                              "pattern = \"directions\"\ndirections_deg = [0, 90, 180]\n"
                              "magnets_per_pole_pair = 4",
                              "21:1:", "ring.magnets.directions_deg", {"3", "52"}));
}

void add_service(std::vector<BrokenCase>& all) {
  all.push_back(more_of_short("a room hotter than any", "[use]\nambient_C = 500",
                              "22:", "use.ambient_C", {"500", "at most 150"}));
  all.push_back(more_of_short("a load that pulls", "[use]\nload_Nm = -3", "22:", "use.load_Nm",
                              {"-3", "above 0"}));
  all.push_back(more_of_short("a duty without end", "[[duty]]\nload_Nm = 3",
                              "21:", "duty[1].minutes", {"missing"}));
  all.push_back(more_of_short("a measured thing that is both",
                              "[[measured]]\npart = \"modulator\"\npath = \"a to b\"\n"
                              "temperature_C = 40",
                              "23:", "measured[1].path", {"part", "path"}));
  all.push_back(more_of_short("pole pieces held in the middle",
                              "[build]\npole_pieces_held = \"middle\"",
                              "22:", "build.pole_pieces_held", {"both ends", "one end"}));
  all.push_back(more_of_short("a carrier nobody knows", "[build]\nring_carrier = \"PETQ\"",
                              "22:", "build.ring_carrier", {"PETQ", "PETG"}));
  all.push_back(more_of_short("a cut that mends", "[build]\ncutting_factor = 0.5",
                              "22:", "build.cutting_factor", {"0.5", "at least 1 and at most 5"}));
  all.push_back(more_of_short("a bearing that turns in itself",
                              "[[bearing]]\nturns = \"sun\"\nsits_in = \"sun\"\nbore_mm = 10",
                              "22:", "bearing[1].turns", {"same"}));
  all.push_back(more_of_short("a bearing without a bore", "[[bearing]]\nturns = \"sun\"",
                              "21:", "bearing[1].bore_mm", {"missing"}));
  all.push_back(more_of_short("a bearing of the lid", "[[bearing]]\nturns = \"lid\"\nbore_mm = 10",
                              "22:", "bearing[1].turns", {"lid", "housing"}));
  all.push_back(more_of_short("more than everything", "[require]\nefficiency_percent = 120",
                              "22:", "require.efficiency_percent", {"120", "100"}));
  all.push_back(more_of_short("a safety that is none", "[require]\nsafety_factor = 0.5",
                              "22:", "require.safety_factor", {"0.5", "at least 1"}));
}

}  // namespace

std::vector<BrokenCase> broken_cases() {
  std::vector<BrokenCase> all;
  add_syntax(all);
  add_unknown(all);
  add_values(all);
  add_missing(all);
  add_together(all);
  add_materials(all);
  add_geometry(all);
  add_service(all);
  return all;
}

}  // namespace lodegear
