// tests/cases/result_csv_test.cpp — the tables that a spreadsheet reads.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <locale>

#include "cases/csv_files.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "result_of_tests.h"
#include "tests/support/small_case.h"

using namespace lodegear;

namespace {

constexpr const char* header =
    "load_angle_deg,sun_angle_deg,modulator_angle_deg,ring_angle_deg,torque_sun_Nm,"
    "torque_modulator_Nm,torque_ring_Nm,pull_on_sun_x_N,pull_on_sun_y_N,pull_on_ring_x_N,"
    "pull_on_ring_y_N,converged";

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

}  // namespace

TEST_CASE("slip_curve.csv: the header is as documented and each position has its row",
          "[cases][result]") {
  const std::string text = slip_curve_csv(small_result());
  CHECK(first_line(text) == header);
  const auto rows = csv_cells(text);
  REQUIRE(rows.size() == 1 + small_result().slip_curve.size());
  for (const auto& row : rows) CHECK(row.size() == 12);
  // 40 positions a period, sun with two pole pairs: 9° electrical are 4.5° of the sun.
  CHECK(rows[2][0] == "9");
  CHECK(rows[2][1] == "4.5");
  CHECK(rows[2][2] == "0");
}

TEST_CASE("slip_curve.csv: torques read back as they were computed", "[cases][result]") {
  const auto rows = csv_cells(slip_curve_csv(small_result()));
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const CurvePoint& point = small_result().slip_curve[i - 1];
    CHECK(std::stod(rows[i][5]) ==
          Approx(of(point.torque, Member::modulator)).epsilon(1e-11));  // twelve digits
    CHECK(rows[i][11] == "1");
  }
}

TEST_CASE("slip_curve.csv: a position without a solution leaves its torques empty",
          "[cases][result]") {
  const auto rows = csv_cells(slip_curve_csv(result_with_hole()));
  for (std::size_t column = 4; column < 11; ++column) {
    CHECK(rows[4][column].empty());
    CHECK_FALSE(rows[5][column].empty());
  }
  CHECK(rows[4][0] == "27");
  CHECK(rows[4][11] == "0");
}

TEST_CASE("slip_curve.csv: members that a coupling does not have leave their cells empty",
          "[cases][result]") {
  const char* coupling = R"([gear]
sun_pole_pairs = 2
ring_pole_pairs = 2
stack_length_mm = 20
[sun.magnets]
grade = "N42"
inner_radius_mm = 10
outer_radius_mm = 14
[ring.magnets]
grade = "N42"
inner_radius_mm = 15
outer_radius_mm = 19
[slip]
positions_per_period = 8
[mesh]
fineness = 0.5
)";
  const CaseResult result = run_case(read_case_text(coupling, "coupling"));
  const auto rows = csv_cells(slip_curve_csv(result));
  REQUIRE(rows.size() == 9);
  CHECK(rows[1][2].empty());
  CHECK(rows[1][5].empty());
  CHECK_FALSE(rows[2][4].empty());
}

TEST_CASE("slip_curve.csv: keeping fields changes no figure", "[cases][result]") {
  const std::string text = small_case;
  const auto curve = [&text](const char* keep) {
    return slip_curve_csv(run_case(
        read_case_text(text + "[output]\nkeep_fields = \"" + keep + "\"\n", "small.toml")));
  };
  const std::string none = curve("none");
  CHECK(curve("first position") == none);
  CHECK(curve("every position") == none);
}

TEST_CASE("running_curve.csv: every row says what it is for", "[cases][result]") {
  const auto rows = csv_cells(running_curve_csv(small_result()));
  CHECK(first_line(running_curve_csv(small_result())) == std::string(header) + ",purpose");
  REQUIRE(rows.size() == 1 + 3 * 4);
  CHECK(rows[1].back() == "no load");
  CHECK(rows[5].back() == "load");
  CHECK(rows[5][0] == "30");
  CHECK(rows[9].back() == "slip");
}

TEST_CASE("cell: a dot decimal whatever the locale, and no negative zero", "[cases][result]") {
  struct Comma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
  };
  const std::locale before = std::locale::global(std::locale(std::locale(), new Comma));
  CHECK(cell(0.5) == "0.5");
  CHECK(cell(-1234.5) == "-1234.5");
  std::locale::global(before);
  CHECK(cell(-0.0) == "0");
  CHECK(cell(1.0 / 3.0) == "0.333333333333");
}
