// tests/tools/drawings/every_gear_test.cpp — whatever can be meshed can be drawn.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <set>

#include "pdf_words.h"
#include "tests/mesh/gears.h"
#include "tools/drawings/draw_files.h"

using namespace lodegear;

namespace {

/// The gear with sheet of half a millimetre and a magnet, as a case would name them.
Case case_of(const Gear& gear) {
  Case c;
  c.name = "test";
  c.gear = gear;
  c.magnets["magnet"].grade = "grade";
  c.magnets["magnet"].material.remanence_min = c.magnets["magnet"].material.remanence_max = 1.3;
  c.steels["steel"].grade = "sheet";
  c.steels["steel"].material.thickness = 0.5 * mm;
  c.steels["steel"].material.density = 7700;
  if (c.gear.modulator) c.gear.modulator->active_length = 25 * mm;
  return c;
}

}  // namespace

TEST_CASE("draw: every gear gives its files, each once and none empty", "[tools][drawings][slow]") {
  const NamedGear named = GENERATE(from_range(gears_of_every_shape()));
  INFO(named.name);
  DrawOptions options;
  options.kerf = 0.1 * mm;
  std::set<std::string> names;
  for (const auto& [name, bytes] : drawing_files(case_of(named.gear), options)) {
    INFO(name);
    CHECK(names.insert(name).second);
    CHECK(!bytes.empty());
    if (name.ends_with(".svg")) CHECK(bytes.find("nan") == std::string::npos);
    if (name.ends_with(".pdf")) CHECK(word_faults(bytes) == "");
    if (name.ends_with(".dxf")) CHECK(bytes.find("\nnan\n") == std::string::npos);
  }
  CHECK(names.contains("section.dxf"));
  CHECK(names.contains("parts.txt"));
  CHECK(names.contains("placement.csv") == (named.gear.sun || named.gear.ring));
  CHECK(names.contains("lamination.dxf") == named.gear.modulator.has_value());
}
