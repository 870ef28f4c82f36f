// tests/materials/nearest_name_test.cpp — which name was probably meant.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/nearest_name.h"

#include <catch2/catch.hpp>

using namespace lodegear;

TEST_CASE("edit distance: one slip counts one, also two letters swapped", "[materials][names]") {
  CHECK(edit_distance("width_mm", "width_mm") == 0);
  CHECK(edit_distance("widht_mm", "width_mm") == 1);  // swapped
  CHECK(edit_distance("wdth_mm", "width_mm") == 1);   // left out
  CHECK(edit_distance("wiidth_mm", "width_mm") == 1);
  CHECK(edit_distance("wodth_mm", "width_mm") == 1);
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("N42sh", "n42SH") == 0);
}

TEST_CASE("nearest names: the nearest comes first and strangers are not named",
          "[materials][names]") {
  const std::vector<std::string> known{"M400-50A", "M400-65A", "N42", "N42SH", "copper"};
  CHECK(nearest_names("M400-50", known, 2) == std::vector<std::string>{"M400-50A", "M400-65A"});
  CHECK(nearest_names("coper", known, 2) == std::vector<std::string>{"copper"});
  CHECK(nearest_names("titanium", known, 3).empty());
  CHECK(nearest_names("", known, 3).empty());
  CHECK(nearest_names(std::string(100000, 'x'), known, 3).empty());
}
