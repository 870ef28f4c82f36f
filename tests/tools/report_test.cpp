// tests/tools/report_test.cpp — the page holds what the folders hold, and nothing from elsewhere.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <regex>

#include "program.h"
#include "tests/support/small_case.h"
#include "tolerance_study.h"
#include "tools/report/figures_of_json.h"
#include "tools/report/html.h"
#include "tools/report/line_chart.h"
#include "tools/report/page_parts.h"
#include "tools/report/table.h"

using namespace lodegear;
using Catch::Contains;

namespace {

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

/// What a page would fetch: sources and addresses that are neither within it nor data.
std::vector<std::string> fetched(const std::string& page) {
  const std::regex address("(?:src|href)=\"([^\"]{0,40})|url\\(([^)]{0,40})|@import");
  std::vector<std::string> all;
  for (std::sregex_iterator it(page.begin(), page.end(), address), end; it != end; ++it) {
    const std::string to = (*it)[1].str() + (*it)[2].str();
    if (!to.starts_with("data:") && !to.starts_with("#")) all.push_back(to);
  }
  return all;
}

}  // namespace

TEST_CASE("report: tables are read as they were written", "[tools][report]") {
  const Table table = csv_table("a,b,c\n1,x,2.5\n2,,nan?\n3,x,-1e-3\n");
  CHECK(table.numbers("a") == std::vector<double>{1, 2, 3});
  CHECK(table.texts("b") == std::vector<std::string>{"x", "", "x"});
  CHECK(std::isnan(table.numbers("c")[1]));
  CHECK(table.where("b", "x").numbers("c") == std::vector<double>{2.5, -1e-3});
  CHECK(table.numbers("d").empty());
  CHECK(csv_table("").empty());
  // RFC 4180, 2.5 to 2.7: quotes around commas, line ends and doubled quotes.
  const Table quoted = csv_table("a,remark,c\n1,\"x, \"\"y\"\"\nz\",2\n3,,4");
  CHECK(quoted.texts("remark") == std::vector<std::string>{"x, \"y\"\nz", ""});
  CHECK(quoted.numbers("c") == std::vector<double>{2, 4});
}

TEST_CASE("report: ticks are round, few, and hold the curve between them", "[tools][report]") {
  for (const auto& [least, most] :
       {std::pair{-3.2e-5, 2.1e-5}, {0.0, 360.0}, {1.0, 1.0}, {-48.7, 48.7}, {1e6, 1.000001e6}}) {
    const std::vector<double> ticks = round_ticks(least, most);
    INFO(least << " to " << most);
    CHECK(ticks.size() >= 2);
    CHECK(ticks.size() <= 9);
    const double step = ticks[1] - ticks[0];
    CHECK(ticks.front() <= least + 1e-6 * step);
    CHECK(ticks.back() >= most - 1e-6 * step);
  }
}

TEST_CASE("report: a curve with a hole is drawn in two pieces, and an empty one not at all",
          "[tools][report]") {
  const double hole = std::nan("");
  LineChart chart{"t", "x", "y", {{"one", {0, 1, 2, 3, 4}, {0, 1, hole, 1, 0}}}, false};
  const std::string text = line_chart(chart);
  const std::size_t path = text.find("class=\"curve c0\" d=\"");
  REQUIRE(path != std::string::npos);
  CHECK(count(text.substr(path, text.find("\"/>", path) - path), "M") == 2);
  chart.curves[0].y = {hole, hole, hole, hole, hole};
  CHECK(line_chart(chart).empty());
}

TEST_CASE("report: what a person wrote is shown, not obeyed", "[tools][report]") {
  CHECK(escaped("<script>&\"") == "&lt;script&gt;&amp;&quot;");
  const std::string chart =
      line_chart({"t", "x", "y", {{"</script><b>", {0, 1, 2}, {0, 1, 0}}}, false});
  CHECK(count(chart, "</script>") == 1);
  CHECK(count(chart, "<b>") == 0);
}

TEST_CASE(
    "report: the library of the charts comes whole, with its licence, and names no source map",
    "[tools][report]") {
  const std::string library = chart_library, name = chart_library_name;
  CHECK(library.empty() == name.empty());
  if (library.empty()) {
    WARN("not run: built without the chart library");
    return;
  }
  CHECK(name == "dygraphs 2.2.1, MIT");
  CHECK(library.starts_with("/* dygraphs 2.2.1, MIT"));
  CHECK_THAT(library, Contains("Permission is hereby granted, free of charge") &&
                          Contains("VERSION=\"2.2.1\"") && !Contains("sourceMappingURL"));
  CHECK(count(library, "</script") == 0);
}

TEST_CASE("report: figures of a JSON file become rows with names, unknown ones do not",
          "[tools][report]") {
  const auto json = nlohmann::ordered_json::parse(
      R"({"parts": [{"part": "sun hub", "steady": {"value": 31.25, "unit": "°C", "how": "x"}},
                    {"part": "air", "steady": null}],
          "gap": {"value": 0.0012, "unit": "m", "how": "x"}})");
  const auto rows = figure_rows(json);
  REQUIRE(rows.size() == 2);
  CHECK(rows[0] == std::vector<std::string>{"parts, sun hub, steady", "31.25 °C"});
  CHECK(rows[1] == std::vector<std::string>{"gap", "1.2 mm"});
}

TEST_CASE("report: one page with everything, that fetches nothing", "[tools][report][slow]") {
  const Scratch scratch;
  std::string text = small_case;
  const std::string evil = "name = \"<b>small</b>\"";
  text.replace(text.find("name = \"small\""), 14, evil);
  const std::string file = scratch.file("case.toml", text);
  REQUIRE(program("sweep " + file + " -q --out " + (scratch / "r")).exit_code == 0);
  const Outcome first = program("report " + (scratch / "r"));
  INFO(first.err);
  REQUIRE(first.exit_code == 0);
  CHECK_THAT(text_of_file(scratch / "r/report.html"), Contains("Not judged yet"));

  program("validate " + file + " -q --out " + (scratch / "r"));
  REQUIRE(program("report " + (scratch / "r") + " --frames 3").exit_code == 0);
  const std::string page = text_of_file(scratch / "r/report.html");
  CHECK(fetched(page) == std::vector<std::string>{});
  CHECK(count(page, "<b>small</b>") == 0);
  for (const char* part :
       {"Expected on the bench", "Slip curve", "Cogging", "Efficiency over speed", "From cold",
        "the knee", "Where losses arise", "Clearances", "length of the stack", "Never for hoisting",
        "What the case file does not say", "0.5 mT"})
    CHECK_THAT(page, Contains(part));
  // Every chart can be reached by keyboard, and every picture has words.
  CHECK(count(page, "<figure class=\"chart\" tabindex=\"0\"") >= 5);
  CHECK(count(page, "<svg viewBox") <= count(page, "role=\"img\"") + count(page, "aria-hidden"));
  CHECK(count(page, "<img ") == count(page, "<img alt="));

  // The same folders give the same page.
  REQUIRE(
      program("report " + (scratch / "r") + " --frames 3 -t 2 --out " + (scratch / "again.html"))
          .exit_code == 0);
  CHECK(text_of_file(scratch / "again.html") == page);
  CHECK(program("report " + (scratch / "r") + " " + (scratch / "r") + " --out " +
                (scratch / "two.html"))
            .exit_code == 0);
  CHECK_THAT(text_of_file(scratch / "two.html"), Contains("Side by side"));
}

TEST_CASE(
    "report: a study with tolerances beside the results is shown with them, one of another case "
    "not",
    "[tools][report][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const std::string study = scratch.file("study.toml", std::string(study_of_tolerances));
  REQUIRE(program("sweep " + file + " -q --out " + (scratch / "r")).exit_code == 0);
  REQUIRE(program("study " + study + " -q --out " + (scratch / "tolerances")).exit_code == 0);
  REQUIRE(program("report " + (scratch / "r")).exit_code == 0);
  const std::string page = text_of_file(scratch / "r/report.html");
  for (const char* part :
       {"<h2 id=\"tolerances\">", "spreads over 12 gears", "standard deviation 1.5", "± 0.05",
        "As delivered &amp; &lt;turned&gt;", "each magnet of the ring", "% of its variance"})
    CHECK_THAT(page, Contains(part));

  // The bars hold every gear.
  const std::regex bar("<rect class=\"bar\"[^>]*/><text[^>]*>([0-9]+)<");
  int gears = 0;
  for (std::sregex_iterator it(page.begin(), page.end(), bar), end; it != end; ++it)
    gears += std::stoi((*it)[1]);
  CHECK(gears == 12);

  // Named as well it is not shown twice; from elsewhere it has to be named.
  const std::string both = (scratch / "r") + " " + (scratch / "tolerances");
  REQUIRE(program("report " + both + " --out " + (scratch / "both.html")).exit_code == 0);
  CHECK(text_of_file(scratch / "both.html") == page);

  const std::string other =
      scratch.file("other.toml", std::string(small_case) + "# another text\n");
  REQUIRE(program("sweep " + other + " -q --out " + (scratch / "o")).exit_code == 0);
  REQUIRE(program("report " + (scratch / "o")).exit_code == 0);
  CHECK(count(text_of_file(scratch / "o/report.html"), "gears drawn by lot") == 0);
  const Outcome wrong = program("report " + (scratch / "o") + " " + (scratch / "tolerances"));
  CHECK(wrong.exit_code == 2);
  CHECK_THAT(wrong.err, Contains("is a study of another case"));
  const Outcome alone = program("report " + (scratch / "tolerances"));
  CHECK(alone.exit_code == 2);
  CHECK_THAT(alone.err, Contains("name the results folder of its base case"));
  scratch.file("tolerances/study.csv", "design\n");
  const Outcome changed = program("report " + both);
  CHECK(changed.exit_code == 2);
  CHECK_THAT(changed.err, Contains("study.csv") && Contains("changed"));
}

TEST_CASE("report: no results, or results that were edited, are refused", "[tools][report][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  const Outcome none = program("report " + (scratch / "r"));
  CHECK(none.exit_code == 2);
  CHECK_THAT(none.err, Contains("no folder"));
  REQUIRE(program("sweep " + file + " -q --out " + (scratch / "r")).exit_code == 0);
  scratch.file("r/slip_curve.csv", "load_angle_deg\n1\n");
  const Outcome edited = program("report " + (scratch / "r"));
  CHECK(edited.exit_code == 2);
  CHECK_THAT(edited.err, Contains("slip_curve.csv") && Contains("changed"));
}
