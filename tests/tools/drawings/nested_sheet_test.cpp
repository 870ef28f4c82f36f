// tests/tools/drawings/nested_sheet_test.cpp — pieces on the sheet keep apart and are counted.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/nested_sheet.h"

#include <catch2/catch.hpp>

#include "cases/read_case.h"
#include "materials/input_error.h"
#include "tests/mesh/gears.h"
#include "tools/drawings/parts_list.h"

using namespace lodegear;

namespace {

Case example(const std::string& name) {
  return read_case(std::string(LODEGEAR_SOURCE_DIR) + "/cases/" + name + "/case.toml");
}

}  // namespace

TEST_CASE("nested sheet: neighbours and the edge keep their distance", "[tools][drawings][sheet]") {
  const char* name = GENERATE("vat_stirrer", "back_irons", "bridged", "halbach_sun");
  INFO(name);
  DrawOptions options;
  options.kerf = 0.2 * mm;
  const NestedSheet sheet = nested_sheet(example(name), options);
  REQUIRE(!sheet.parts.empty());
  const double room = options.web + options.kerf;
  const Extent stock{{0, 0}, {sheet.length, sheet.width}};
  // Of the first columns, which are like all others.
  for (std::size_t i = 0; i < std::min<std::size_t>(60, sheet.parts.size()); ++i) {
    const Extent e = extent(sheet.parts[i].outline);
    CHECK((e.low.array() >= room - 1e-9).all());
    CHECK((e.high.array() <= stock.high.array() - room + 1e-9).all());
    for (std::size_t j = 0; j < i; ++j)
      CHECK(distance(sheet.parts[i].outline, sheet.parts[j].outline) >= room - 1e-8);
  }
}

TEST_CASE("nested sheet: turning every second piece over wins rows", "[tools][drawings][sheet]") {
  Case c = example("back_irons");  // 12° inside, 10.5° outside
  DrawOptions options;
  options.sheet_length = 100 * mm;
  options.sheet_width = 100 * mm;
  const NestedSheet sheet = nested_sheet(c, options);
  const Extent e = extent(sheet.parts.front().outline);
  const auto boxes = [&](double have, double size) {
    return static_cast<std::size_t>((have - options.web) / (size + options.web));
  };
  CHECK(sheet.parts.size() >= boxes(0.1, e.size().x()) * boxes(0.1, e.size().y()));
  CHECK(sheet.used() > 0.5);
}

TEST_CASE("nested sheet: sheets are counted up, none where nothing is stamped",
          "[tools][drawings][sheet]") {
  const Case c = example("vat_stirrer");
  const NestedSheet sheet = nested_sheet(c, {});
  CHECK(sheet.wanted == 23 * sheets_in_stack(c));
  const auto each = static_cast<int>(sheet.parts.size());
  CHECK(sheet.sheets() * each >= sheet.wanted);
  CHECK((sheet.sheets() - 1) * each < sheet.wanted);
  Case solid = c;
  solid.steels.at(c.gear.modulator->material).material.thickness = 0.0;
  CHECK(nested_sheet(solid, {}).parts.empty());
}

TEST_CASE("nested sheet: a sheet too small for one piece is told", "[tools][drawings][sheet]") {
  DrawOptions options;
  options.sheet_length = options.sheet_width = 8 * mm;
  CHECK_THROWS_AS(nested_sheet(example("vat_stirrer"), options), InputError);
}
