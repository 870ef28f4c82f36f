// tests/materials/table_reader_test.cpp — what is said about keys that are wrong, missing, unknown.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/table_reader.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/materials/materials_of_tests.h"

using namespace lodegear;
using Catch::Contains;

namespace {

/// A text with its reader; complaints are joined by line ends.
struct Reading {
  explicit Reading(const std::string& text)
      : document(toml_document(text, "case.toml")), table(document, log) {}
  std::string complaints() const {
    std::string all;
    for (const Complaint& c : log.complaints) all += to_string(c) + "\n";
    return all;
  }
  TomlDocument document;
  ReadLog log;
  TableReader table;
};

enum class Colour { red, green };

}  // namespace

TEST_CASE("table reader: good values are read without a word", "[materials][reader]") {
  Reading r(
      "n = 3\nx = 2.5\nwhole = 7\ns = \"N42\"\nb = true\nc = \"green\"\nl = [1, 2.5]\n"
      "rows = [[1, 2], [3, 4]]\n[t]\ny = 1\n[[many]]\nz = 1\n[[many]]\nz = 2\n");
  CHECK(r.table.integer("n", 1, 10) == 3);
  CHECK(r.table.number("x", Range::positive()) == 2.5);
  CHECK(r.table.number("whole") == 7.0);
  CHECK(r.table.text("s") == "N42");
  CHECK(r.table.flag("b"));
  CHECK(r.table.choice<Colour>("c", {{"red", Colour::red}, {"green", Colour::green}}) ==
        Colour::green);
  CHECK(r.table.numbers("l") == std::vector<double>{1.0, 2.5});
  CHECK(r.table.rows("rows", 2)[1] == std::vector<double>{3.0, 4.0});
  TableReader t = r.table.table("t");
  CHECK(t.integer("y", 0, 5) == 1);
  t.finish();
  std::vector<TableReader> many = r.table.tables("many");
  REQUIRE(many.size() == 2);
  CHECK(many[1].name() == "many[2]");
  CHECK(many[1].integer("z", 0, 5) == 2);
  r.table.finish();
  CHECK(r.complaints().empty());
  CHECK(r.log.assumed.empty());
  CHECK_NOTHROW(r.log.throw_if_wrong());
}

TEST_CASE("table reader: every complaint has place, key, what is wrong and what is right",
          "[materials][reader]") {
  Reading r(
      "[sun]\npole_pairs = 61.0\nwidth_mm = \"12\"\ngap_mm = -1\nbig = 1e-400\nbad = nan\n"
      "steel = 3\nflag = 1\nmode = \"grene\"\nlist = [1, \"x\"]\nrows = [[1, 2], [3]]\n"
      "many = 1\nt = 5\nempty = \" \"\nday = 1979-05-27\nhuge = 5000000000\n");
  TableReader sun = r.table.table("sun");
  sun.integer("pole_pairs", 1, 100);
  sun.number("width_mm");
  sun.number("gap_mm", Range{.least = 0, .most = 5, .least_open = true});
  sun.number("big");
  sun.number("bad");
  sun.text("steel");
  sun.flag("flag");
  sun.choice<Colour>("mode", {{"red", Colour::red}, {"green", Colour::green}});
  sun.numbers("list");
  sun.rows("rows", 2);
  sun.tables("many");
  sun.optional_table("t");
  sun.text("empty");
  sun.number("day");
  sun.integer("huge", 0, 10);
  sun.finish();
  const std::vector<std::string> expected{
      std::string(
          "case.toml:2:14: sun.pole_pairs: is the decimal number 61.0; it must be a whole ") +
          "number from 1 to 100, without a dot or quotes.",
      "case.toml:3:12: sun.width_mm: is the text \"12\"; it must be a number.",
      "case.toml:4:10: sun.gap_mm: is -1; it must be above 0 and at most 5.",
      "case.toml:5:7: sun.big: is 1e-400, too small a number to be told from 0.",
      "case.toml:6:7: sun.bad: is nan; it must be a finite number.",
      "case.toml:7:9: sun.steel: is the whole number 3; it must be text in quotes.",
      "case.toml:8:8: sun.flag: is the whole number 1; it must be true or false, without quotes.",
      std::string("case.toml:9:8: sun.mode: is the text \"grene\"; it must be \"red\" or ") +
          "\"green\". Did you mean \"green\"?",
      "case.toml:10:12: sun.list[2]: is the text \"x\"; it must be a number.",
      "case.toml:11:17: sun.rows[2]: is a list of 1; it must be a list of 2 numbers.",
      std::string("case.toml:12:8: sun.many: is the whole number 1; it must be one or more ") +
          "tables [[sun.many]].",
      "case.toml:13:5: sun.t: is the whole number 5; it must be a table: [sun.t] or {…}.",
      "case.toml:14:9: sun.empty: is an empty text; write something or leave it out.",
      "case.toml:15:7: sun.day: is a date or time; it must be a number.",
      "case.toml:16:8: sun.huge: is 5000000000; it must be a whole number from 0 to 10."};
  REQUIRE(r.log.complaints.size() == expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i)
    CHECK(to_string(r.log.complaints[i]) == expected[i]);
  CHECK_THROWS_AS(r.log.throw_if_wrong(), InputError);
}

TEST_CASE("table reader: missing keys are told at their table", "[materials][reader]") {
  Reading r("[ring]\nx = 1\n");
  TableReader ring = r.table.table("ring");
  CHECK(std::isnan(ring.number("outer_radius_mm", Range::positive())));
  CHECK(ring.integer("pole_pairs", 1, 1000) == 1);
  CHECK(ring.text("magnet").empty());
  CHECK_THAT(r.complaints(),
             Contains("case.toml:1:1: ring.outer_radius_mm: is missing; give a number above 0.") &&
                 Contains("ring.pole_pairs: is missing; give a whole number from 1 to 1000.") &&
                 Contains("ring.magnet: is missing; give a text in quotes."));
}

TEST_CASE("table reader: a missing table is one complaint, not one for each of its keys",
          "[materials][reader]") {
  Reading r("x = 1\n");
  TableReader sun = r.table.table("sun");
  sun.number("a");
  sun.text("b");
  sun.table("c").number("d");
  sun.exactly_one_of({"e", "f"});
  CHECK(r.complaints() == "case.toml:1:1: sun: is missing; give a table [sun].\n");
}

TEST_CASE("table reader: a default that is taken is listed as assumed", "[materials][reader]") {
  Reading r("[air]\ngiven = 2\n");
  TableReader air = r.table.table("air");
  CHECK(air.number_or("given", 9.0) == 2.0);
  CHECK(air.number_or("left_out", 0.05) == 0.05);
  CHECK(air.integer_or("count", 24, 1, 100) == 24);
  CHECK(air.text_or("steel", "M400-50A") == "M400-50A");
  CHECK_FALSE(air.flag_or("cogging", false));
  CHECK(air.choice_or<Colour>("colour", "green",
                              {{"red", Colour::red}, {"green", Colour::green}}) == Colour::green);
  std::string assumed;
  for (const Assumed& a : r.log.assumed) assumed += a.key + " = " + a.value + "\n";
  CHECK(assumed ==
        "air.left_out = 0.05\nair.count = 24\nair.steel = \"M400-50A\"\nair.cogging = false\n"
        "air.colour = \"green\"\n");
  CHECK(r.complaints().empty());
}

TEST_CASE("table reader: unknown keys are told with the nearest known one", "[materials][reader]") {
  Reading r("pole_piars = 3\nnonsense = 1\nwidth_mm = 2\n[exrta]\n");
  r.table.optional_integer("pole_pairs", 1, 10);
  r.table.optional_number("width_mm");
  r.table.optional_table("extra");
  r.table.finish();
  CHECK(r.complaints() ==
        "case.toml:1:1: pole_piars: is not a key that is known here; did you mean pole_pairs?\n"
        "case.toml:2:1: nonsense: is not a key that is known here; known are pole_pairs, width_mm "
        "and extra.\n"
        "case.toml:4:2: exrta: is not a key that is known here; did you mean extra?\n");
}

TEST_CASE("table reader: a file of another kind is told off briefly", "[materials][reader]") {
  std::string text;
  for (int i = 0; i < 1000; ++i) text.append("k").append(std::to_string(i)).append(" = 1\n");
  Reading r(text);
  r.table.finish();
  CHECK(r.log.complaints.size() == 21);
  CHECK_THAT(r.complaints(), Contains("and 980 more unknown keys."));
}

TEST_CASE("table reader: keys that exclude one another", "[materials][reader]") {
  Reading r("a = 1\nb = 2\n");
  CHECK(r.table.exactly_one_of({"a", "b", "c"}) == "a");
  CHECK(r.complaints() == "case.toml:2:1: b: cannot stand beside a; give one of a, b or c.\n");
  Reading none("x = 1\n");
  CHECK(none.table.exactly_one_of({"a", "b"}).empty());
  CHECK(none.complaints() == "case.toml:1:1: needs one of a or b.\n");
  CHECK(none.table.at_most_one_of({"a", "b"}).empty());
  CHECK(none.log.complaints.size() == 1);
}

TEST_CASE("table reader: ranges read like sentences", "[materials][reader]") {
  CHECK(Range::positive().text() == "above 0");
  CHECK(Range::between(0.5, 1).text() == "at least 0.5 and at most 1");
  CHECK(Range::at_most(3).text() == "at most 3");
  CHECK(Range::any().text() == "any number");
  CHECK_FALSE(Range::positive().holds(0.0));
  CHECK(Range::between(0, 1).holds(1.0));
  CHECK_FALSE(Range::any().holds(std::nan("")));
}
