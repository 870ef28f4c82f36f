// tests/tools/drawings/sheets_test.cpp — pages are true to size and show everything.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <set>

#include "cases/read_case.h"
#include "tests/mesh/gears.h"
#include "tests/tools/program.h"
#include "tools/drawings/draw_files.h"
#include "tools/drawings/placement_chart.h"
#include "tools/drawings/section_sheet.h"
#include "tools/drawings/svg.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinAbs;

namespace {

/// The numbers that stand inside the window of a page.
std::set<std::string> bold_numbers(const Page& page) {
  std::set<std::string> numbers;
  for (const PageItem& item : page.clipped)
    if (const auto* words = std::get_if<PageText>(&item))
      if (words->bold && words->text != "N" &&
          (words->at.array() > page.window->low.array()).all() &&
          (words->at.array() < page.window->high.array()).all())
        numbers.insert(words->text);
  return numbers;
}

}  // namespace

TEST_CASE("sheets: a millimetre of the drawing is a millimetre of the paper",
          "[tools][drawings][sheets]") {
  Page page;
  add_scale_check(page, {10e-3, 14e-3});
  const std::string svg = svg_text(page);
  // ISO 216: A4 is 210 by 297 mm. User units then are millimetres.
  CHECK_THAT(svg, Contains("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
  CHECK_THAT(svg, Contains("M10 283L110 283"));  // y counts from the top
}

TEST_CASE("sheets: an arc keeps its sense where y points down", "[tools][drawings][sheets]") {
  Page page;
  page.items.push_back(PageShape{{arc({0.1, 0.1}, 0.05, 0.0, pi / 2)}, thin_pen, {}, true});
  // From (150, 197) to (100, 147), up and to the left on the screen: counter-clockwise, sweep 0.
  CHECK_THAT(svg_text(page), Contains("M150 197A50 50 0 0 0 100 147"));
}

TEST_CASE("sheets: a rotor larger than the paper is cut into tiles that show every magnet",
          "[tools][drawings][sheets]") {
  Gear gear = standard_gear();
  for (const double scale : {1.0, 3.0, 6.0}) {
    gear.ring = arc_rotor(13, scale * 38 * mm, scale * 44 * mm, AlternatingParallel{});
    const std::vector<Page> pages = placement_chart(gear, Member::ring, "test");
    INFO(pages.size() << " pages");
    if (scale == 1.0) CHECK(pages.size() == 1);
    if (scale == 3.0) CHECK(pages.size() == 4);  // 282 mm across on 190 by 238
    std::set<std::string> seen;
    for (const Page& page : pages) seen.merge(bold_numbers(page));
    CHECK(seen.size() == 26);
  }
}

TEST_CASE("sheets: neighbouring tiles overlap by ten millimetres", "[tools][drawings][sheets]") {
  Gear gear = standard_gear();
  gear.ring = arc_rotor(13, 120 * mm, 130 * mm, AlternatingParallel{});
  const std::vector<Page> pages = placement_chart(gear, Member::ring, "test");
  REQUIRE(pages.size() == 4);
  const auto place = [](const Page& page) { return std::get<PageText>(page.clipped.back()).at; };
  const auto last_text = [&](Page page) {
    while (!std::holds_alternative<PageText>(page.clipped.back())) page.clipped.pop_back();
    return place(page);
  };
  const Eigen::Vector2d step = last_text(pages[0]) - last_text(pages[1]);
  CHECK_THAT(step.x(), WithinAbs(pages[0].window->size().x() - 10 * mm, 1e-12));
  CHECK_THAT(step.y(), WithinAbs(0.0, 1e-12));
}

TEST_CASE("sheets: every page is well-formed, whatever the case is called",
          "[tools][drawings][sheets]") {
  Case c = read_case(std::string(LODEGEAR_SOURCE_DIR) + "/cases/bridged/case.toml");
  c.name = "a <b> & \"c\"\n";
  const Scratch scratch;
  for (const auto& [name, bytes] : drawing_files(c, {})) {
    if (!name.ends_with(".svg")) continue;
    INFO(name);
    const Outcome read =
        shell("/usr/bin/python3 -c 'import sys, xml.dom.minidom as x; x.parse(sys.argv[1])' " +
              scratch.file(name, bytes));
    INFO(read.err);
    CHECK(read.exit_code == 0);
  }
}

TEST_CASE("sheets: scales are the usual ones", "[tools][drawings][sheets]") {
  CHECK(usual_scale({0.03, 0.01}, {0.1, 0.1}) == 2.0);
  CHECK(usual_scale({0.3, 0.01}, {0.1, 0.1}) == 0.2);
  CHECK(scale_text(2.0) == "2:1");
  CHECK(scale_text(0.2) == "1:5");
}
