// tests/cases/remarks_test.cpp — cautions about a case.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/remarks.h"

#include <catch2/catch.hpp>

#include "case_texts.h"
#include "cases/axial.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinRel;

namespace {

std::string remarks_on(const std::string& text) {
  const Outcome result = outcome(text);
  INFO(result.message());
  REQUIRE(result.read.has_value());
  std::string all;
  for (const std::string& remark : remarks(*result.read)) all += remark + "\n";
  return all;
}

}  // namespace

TEST_CASE("remarks: segments that are not in stock are counted", "[cases][remarks]") {
  CHECK_THAT(remarks_on(short_case), Contains("ring: 26 of 52 magnets") && !Contains("sun: "));
  CHECK_THAT(remarks_on(block_case), !Contains("special order"));
  const std::string turned =
      with_line(with_line(block_case, 11, "centre_radius_mm = 46"), 12, "pattern = \"halbach\"");
  CHECK_THAT(remarks_on(turned), !Contains("special order"));
  CHECK_THAT(remarks_on(with_line(turned, 12, "pattern = \"halbach\"\nturned = false")),
             Contains("sun: 8 of 16 magnets"));
  CHECK_THAT(remarks_on(with_line(short_case, 20, "pattern = \"continuous halbach\"")),
             Contains("ring: a continuous Halbach ring"));
}

TEST_CASE("remarks: grain-oriented sheet is met with caution", "[cases][remarks]") {
  const std::string sheet = "material = \"M140-30S\"\nrolling_direction = ";
  const std::string radial = remarks_on(with_line(short_case, 13, sheet + "\"radial\""));
  CHECK_THAT(radial, Contains("Grain-oriented sheet") && !Contains("turn the sheets"));
  CHECK_THAT(remarks_on(with_line(short_case, 13, sheet + "\"mixed\"")),
             Contains("turn the sheets"));
}

TEST_CASE("remarks: only members without a common divisor pull sideways", "[cases][remarks]") {
  CHECK_THAT(remarks_on(short_case), Contains("17 pole pieces and 8 sun poles"));
  CHECK_THAT(remarks_on(with_line(with_line(short_case, 3, "pole_pieces = 18"), 4,
                                  "ring_pole_pairs = 14")),
             !Contains("sideways"));
}

TEST_CASE("remarks: warm magnets, tight gaps, odd magnets and overhang are told",
          "[cases][remarks]") {
  CHECK_THAT(remarks_on(with_more(short_case, "temperature_C = 120")),
             Contains("sold for at most"));
  CHECK_THAT(remarks_on(with_line(short_case, 11, "outer_radius_mm = 30.8")),
             Contains("inner gap: the running clearance is 0.2 mm") && !Contains("outer gap"));
  CHECK_THAT(remarks_on(with_more(short_case, "[[ring.odd_magnet]]\nindex = 5\nreversed = true")),
             Contains("ring: 1 magnets are not as the pattern wants"));
  CHECK_THAT(remarks_on(with_more(short_case, "[ring]\nactive_length_mm = 30")),
             Contains("25 mm they have in common"));
}

TEST_CASE("remarks: a sleeve that conducts and a steel that nobody guarantees are told",
          "[cases][remarks]") {
  const std::string own = with_line(block_case, 25, "material = \"can\"");
  CHECK_THAT(remarks_on(own + "[materials.can]\nkind = \"other\"\nresistivity_uOhm_m = 0.7\n"),
             Contains("sleeve of can conducts"));
  CHECK_THAT(remarks_on(own + "[materials.can]\nkind = \"other\"\n"), !Contains("conducts"));
  const std::string least = with_line(short_case, 5,
                                      "stack_length_mm = 25\nsteel_curve = "
                                      "\"guaranteed minimum\"");
  CHECK_THAT(remarks_on(least), !Contains("nobody guarantees"));
  CHECK_THAT(remarks_on(with_line(least, 8, "material = \"S235\"")), Contains("nobody guarantees"));
}

TEST_CASE("axial: the common length is the overlap of all members", "[cases][axial]") {
  const Outcome result = outcome(with_more(short_case, "[ring]\naxial_offset_mm = 4"));
  REQUIRE(result.read.has_value());
  CHECK_THAT(common_extent(result.read->gear).length(), WithinRel(0.021, 1e-12));  // round-off
  CHECK(has_overhang(result.read->gear));
  CHECK_FALSE(has_overhang(outcome(short_case).read->gear));
}
