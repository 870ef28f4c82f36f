// tests/tools/progress_test.cpp — what is said while work goes on.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "tools/progress.h"

using namespace lodegear;

TEST_CASE("progress: counts, and tells the time left from the time so far", "[tools][progress]") {
  CHECK(progress_text("slip curve", 25, 100, 10.0, false) ==
        "slip curve  25 of 100, about 30 s left");
  CHECK(progress_text("slip curve", 0, 100, 10.0, false) == "slip curve  0 of 100");
  CHECK(progress_text("slip curve", 100, 100, 10.0, false) == "slip curve  100 of 100");
  CHECK(progress_text("study", 60, 100, 10.0, false, 50) == "study  60 of 100, about 40 s left");
  CHECK(progress_text("study", 50, 100, 10.0, false, 50) == "study  50 of 100");
  CHECK(progress_text("meshes", 0, 0, 0.0, true) == "meshes …");
  CHECK(progress_text("x", 1, 2, 1.0, true) ==
        "x  [############............]  1 of 2, about 1 s left");
}

TEST_CASE("progress: a duration is no more exact than a guess", "[tools][progress]") {
  CHECK(duration_text(0.2) == "1 s");
  CHECK(duration_text(89) == "89 s");
  CHECK(duration_text(150) == "3 min");
  CHECK(duration_text(7300) == "2 h 2 min");
}
