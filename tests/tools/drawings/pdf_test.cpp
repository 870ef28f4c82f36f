// tests/tools/drawings/pdf_test.cpp — another program finds the pages true to size, their words
// apart. SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

#include "cases/read_case.h"
#include "pdf_words.h"
#include "tests/mesh/gears.h"
#include "tests/tools/program.h"
#include "tools/drawings/draw_files.h"
#include "tools/drawings/pdf.h"

// Poppler reads the files back: pdftoppm and pdfinfo of Debian's poppler-utils.

using namespace lodegear;
using Catch::Contains;
using Catch::WithinAbs;

namespace {

Case example(const std::string& name) {
  const std::string file = std::string(LODEGEAR_SOURCE_DIR "/cases/") + name + "/case.toml";
  return read_case(file, Catalogue());
}

/// A page as grey pixels, ten to the millimetre.
struct Pixels {
  int width = 0, height = 0;
  std::string grey;
  bool dark(int x, int y) const {
    return static_cast<unsigned char>(
               grey[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                    static_cast<std::size_t>(x)]) < 128;
  }
};

Pixels rendered(const std::string& pdf, int page) {
  const Scratch scratch;
  const std::string file = scratch.file("d.pdf", pdf), number = std::to_string(page);
  const Outcome run = shell("pdftoppm -r 254 -gray -singlefile -f " + number + " -l " + number +
                            " " + file + " " + (scratch / "p"));
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  const std::string bytes = text_of_file(scratch / "p.pgm");
  Pixels pixels;
  int levels = 0, read = 0;
  REQUIRE(std::sscanf(bytes.c_str(), "P5 %d %d %d%n", &pixels.width, &pixels.height, &levels,
                      &read) == 3);
  pixels.grey = bytes.substr(static_cast<std::size_t>(read) + 1);
  return pixels;
}

/// The longest run of dark pixels in any row between two heights from the top, mm.
double longest_line(const Pixels& pixels, double from, double to) {
  int longest = 0;
  for (int y = static_cast<int>(10 * from); y < static_cast<int>(10 * to); ++y)
    for (int x = 0, run = 0; x < pixels.width; ++x) {
      run = pixels.dark(x, y) ? run + 1 : 0;
      longest = std::max(longest, run);
    }
  return longest / 10.0;
}

}  // namespace

TEST_CASE("pdf: the line of 100 mm is 100 mm on the paper", "[tools][drawings][pdf]") {
  Page page;
  add_scale_check(page, {10e-3, 14e-3});
  page.items.push_back(PageShape{{circle({105e-3, 150e-3}, 40e-3)}, thin_pen, black_tint, false});
  Page wide;
  wide.width = 0.420;  // ISO 216: A3
  add_scale_check(wide, {10e-3, 14e-3});
  const std::string pdf = pdf_bytes({{"first", page}, {"second", wide}}, "two");
  for (const int number : {1, 2}) {
    const Pixels pixels = rendered(pdf, number);
    // A4 and A3 across; a pixel more where the paper ends within it.
    CHECK_THAT(pixels.width, WithinAbs(number == 1 ? 2100 : 4200, 1.1));
    CHECK_THAT(pixels.height, WithinAbs(2970, 1.1));
    // Both ends lie somewhere within a pixel of 0.1 mm.
    CHECK_THAT(longest_line(pixels, 280, 285), WithinAbs(100.0, 0.25));
  }
  // A disc of 80 mm, of arcs, with half a pen of 0.15 mm all round.
  CHECK_THAT(longest_line(rendered(pdf, 1), 140, 155), WithinAbs(80.15, 0.25));
}

TEST_CASE("pdf: every sheet is a page with its name, and the same sheets give the same bytes",
          "[tools][drawings][pdf]") {
  const Case c = example("vat_stirrer");
  const Drawings drawings = drawings_of(c, {});
  const std::string pdf = pdf_bytes(drawings.sheets, c.name);
  CHECK(pdf_bytes(drawings.sheets, c.name) == pdf);
  CHECK_THAT(pdf, !Contains("Date"));
  const Scratch scratch;
  const Outcome info = shell("pdfinfo " + scratch.file("d.pdf", pdf));
  CHECK_THAT(info.out, Contains("Title:           vat stirrer"));
  CHECK_THAT(info.out, Contains("Pages:           " + std::to_string(drawings.sheets.size())));
  CHECK_THAT(info.out, Contains("(A4)"));
  // Words are words, also those beyond ASCII.
  const Outcome text = shell("pdftotext -layout " + (scratch / "d.pdf") + " -");
  CHECK_THAT(text.out, Contains("vat stirrer: pole piece") && Contains("R 54") &&
                           Contains("⌀ 3.2 at 57.5 from the axis") && Contains("15.6522°"));
}

TEST_CASE("pdf: what is drawn true to size has a line to check it by", "[tools][drawings][pdf]") {
  const Drawings drawings = drawings_of(example("vat_stirrer"), {});
  int checked = 0;
  for (const auto& [name, page] : drawings.sheets) {
    std::string words;
    for (const PageItem& item : page.items)
      if (const auto* text = std::get_if<PageText>(&item)) words += text->text + "\n";
    INFO(name);
    const bool true_size =
        words.find("cale 1:1,") != std::string::npos || words.find("1:1, seen") == 0;
    CHECK((words.find("Scale check") != std::string::npos) ==
          (true_size || name.starts_with("placement")));
    checked += true_size ? 1 : 0;
  }
  CHECK(checked >= 5);
}

TEST_CASE("pdf: no words leave the paper or lie over others", "[tools][drawings][pdf][slow]") {
  for (const char* name : {"vat_stirrer", "back_irons", "bridged", "halbach_sun"}) {
    INFO(name);
    const Case c = example(name);
    const std::string pdf = pdf_bytes(drawings_of(c, {}).sheets, c.name);
    CHECK(word_faults(pdf).empty());
  }
  Case wordy = example("vat_stirrer");
  wordy.name =
      "a stirrer drive for the second vat in the dairy of the invented village by the lake";
  wordy.gear.sleeves.front().material = "a printed wall of polyamide with carbon fibres";
  wordy.gear.sun->iron->outer_radius += 1e-3;  // blocks reach into the hub, which takes many words
  CHECK(word_faults(pdf_bytes(drawings_of(wordy, {}).sheets, "")) == "");
  Page page;  // with both faults
  add_lines(page.items, {10e-3, 100e-3}, 3e-3, {"first"});
  add_lines(page.items, {12e-3, 101e-3}, 3e-3, {"second"});
  add_lines(page.items, {195e-3, 50e-3}, 5e-3, {"cut-off"});
  CHECK(word_faults(pdf_bytes({{"p", page}}, "p")) ==
        "first over second\ncut-off leaves the paper\n");
}
