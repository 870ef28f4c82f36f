// tests/tools/pictures_test.cpp — pixels, colours and grids show the field that was solved.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <png.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>

#include "cases/probe.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "program.h"
#include "solver/post/flux_density.h"
#include "tests/support/small_case.h"
#include "tools/pictures/field_picture.h"
#include "tools/pictures/vtu.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinAbs;

namespace {

struct Solved {
  PreparedCase prepared;
  FieldSolution solution;
};

const Solved& solved() {
  static const Solved s = [] {
    Solved all{prepared_case(read_case_text(small_case, "case")), {}};
    all.solution = all.prepared.solver->solve({.sun = 0.2, .modulator = 0.05, .ring = -0.1});
    all.prepared.solver->fill_potentials(all.solution);
    return all;
  }();
  return s;
}

}  // namespace

TEST_CASE("colours: white, black and grey lie on the axis of OKLab", "[tools][pictures]") {
  // Ottosson 2020: white of sRGB is L = 1, a = b = 0; its matrices are rounded to ten digits.
  for (const int grey : {0, 60, 128, 255}) {
    const auto g = static_cast<std::uint8_t>(grey);
    const OkLab lab = oklab({g, g, g});
    CHECK_THAT(lab.a, WithinAbs(0.0, 1e-4));
    CHECK_THAT(lab.b, WithinAbs(0.0, 1e-4));
  }
  CHECK_THAT(oklab({255, 255, 255}).l, WithinAbs(1.0, 1e-4));
  CHECK_THAT(oklab({0, 0, 0}).l, WithinAbs(0.0, 1e-9));
}

TEST_CASE("colours: there and back is the same colour", "[tools][pictures]") {
  for (int r = 0; r < 256; r += 15)
    for (int g = 0; g < 256; g += 17)
      for (int b = 0; b < 256; b += 51) {
        const Colour colour{static_cast<std::uint8_t>(r), static_cast<std::uint8_t>(g),
                            static_cast<std::uint8_t>(b)};
        CHECK(hex(srgb(oklab(colour))) == hex(colour));
      }
}

TEST_CASE("colours: equal steps of the field are equal steps of lightness", "[tools][pictures]") {
  constexpr int n = 24;
  for (int i = 0; i < n; ++i) {
    const double here = oklab(field_colour(static_cast<double>(i) / n)).l;
    const double next = oklab(field_colour((i + 1.0) / n)).l;
    // 0.72 of lightness over the scale; eight bits a channel leave 0.008, and some colours lie at
    // the rim of sRGB.
    CHECK_THAT(here - next, WithinAbs(0.72 / n, 0.012));
  }
  CHECK(hex(field_colour(-1.0)) == hex(field_colour(0.0)));
  CHECK(hex(field_colour(9.0)) == hex(field_colour(1.0)));
}

TEST_CASE("colours: what is written on any of them can be read", "[tools][pictures]") {
  // WCAG 2.1, 1.4.3: at least 4.5 to 1; black on white has 21.
  CHECK_THAT(contrast({0, 0, 0}, {255, 255, 255}), WithinAbs(21.0, 1e-9));
  for (int i = 0; i <= 50; ++i) {
    const Colour ground = field_colour(i / 50.0);
    CHECK(contrast(ground, readable_on(ground)) >= 4.5);
  }
}

TEST_CASE("report: colours of the page can be read in light and dark", "[tools][report]") {
  // The same of every text colour of page.css on its two grounds.
  const std::string css = text_of_file(LODEGEAR_SOURCE_DIR "/tools/report/page.css");
  const std::size_t dark = css.find("prefers-color-scheme: dark"), print = css.find("@media print");
  for (const std::string& scheme : {css.substr(0, dark), css.substr(dark, print - dark)}) {
    const auto named = [&scheme](const std::string& name) {
      const std::size_t at = scheme.find("--" + name + ": #") + name.size() + 5;
      const unsigned value = static_cast<unsigned>(std::stoul(scheme.substr(at, 6), nullptr, 16));
      return Colour{static_cast<std::uint8_t>(value >> 16),
                    static_cast<std::uint8_t>(value >> 8 & 255),
                    static_cast<std::uint8_t>(value & 255)};
    };
    for (const char* text : {"ink", "soft", "good", "unsure", "bad", "mark"})
      for (const char* ground : {"paper", "panel"}) {
        INFO(text << " on " << ground);
        CHECK(contrast(named(text), named(ground)) >= 4.5);
      }
    for (const char* line : {"c0", "c1", "c2", "c3", "c4", "c5"})  // 1.4.11: 3 to 1
      CHECK(contrast(named(line), named("paper")) >= 3.0);
  }
}

TEST_CASE("png: libpng reads back what was written", "[tools][pictures]") {
  for (const int n : {3, 40}) {  // with a palette, and with more than 256 colours
    Raster raster(n, n, {1, 2, 3});
    for (int y = 0; y < n; ++y)
      for (int x = 0; x < n; ++x)
        raster.at(x, y) = {static_cast<std::uint8_t>(x * 6), static_cast<std::uint8_t>(y * 6), 77};
    const std::string bytes = png_bytes(raster);
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()));
    image.format = PNG_FORMAT_RGB;
    std::vector<std::uint8_t> pixels(PNG_IMAGE_SIZE(image));
    REQUIRE(png_image_finish_read(&image, nullptr, pixels.data(), 0, nullptr));
    CHECK(image.width == static_cast<png_uint_32>(n));
    bool same = true;
    for (std::size_t i = 0; i < raster.pixels.size(); ++i)
      same = same && pixels[3 * i] == raster.pixels[i].r &&
             pixels[3 * i + 1] == raster.pixels[i].g && pixels[3 * i + 2] == raster.pixels[i].b;
    CHECK(same);
  }
}

TEST_CASE("field raster: every point has the field that a probe finds there", "[tools][pictures]") {
  const FieldProblem& problem = solved().prepared.solver->problem();
  const Probe probe(problem, solved().solution);
  const FieldRaster raster = field_raster(problem, solved().solution, {}, 0.025, 200);
  int compared = 0, far_off = 0;
  double sum = 0.0;
  for (int r = 0; r < raster.points; r += 3)
    for (int c = 0; c < raster.points; c += 3) {
      const FieldSample& sample = raster.at(c, r);
      if (sample.part == 0) continue;
      const Eigen::Vector2d x((c + 0.5) * raster.step() - raster.half_width,
                              raster.half_width - (r + 0.5) * raster.step());
      const auto b = probe.flux_density_at(x);
      if (!b) continue;
      ++compared;
      sum += std::abs(sample.b - b->norm());
      far_off += std::abs(sample.b - b->norm()) > 0.05 ? 1 : 0;
    }
  REQUIRE(compared > 1000);
  // Beside curved sides a point may fall into the neighbouring triangle, and the coarse mesh of
  // this case has long ones; the rest is the same up to single precision.
  CHECK(sum / compared < 0.01);
  CHECK(far_off < compared / 20);
}

TEST_CASE("field picture: the scale reaches as high as the field, and the file holds its pixels",
          "[tools][pictures]") {
  const FieldRaster raster =
      field_raster(solved().prepared.solver->problem(), solved().solution, {}, 0.025, 160);
  const PictureStyle style = settled_style(raster, {});
  CHECK(style.most > 0.5);
  CHECK(style.most < 4.0);
  CHECK(style.flux_step > 0.0);
  const Raster picture = field_picture(raster, style);
  CHECK(picture.width == 80);
  const std::string svg = field_svg(picture, style, "<a> title");
  CHECK_THAT(svg, Contains("data:image/png;base64,") && Contains("<title>&lt;a&gt; title</title>"));
  CHECK(svg.find("http://") == svg.find("http://www.w3.org/2000/svg"));  // a name, not an address
}

TEST_CASE("picture: an independent reader finds the solver's field in the grid file",
          "[tools][pictures]") {
  const Scratch scratch;
  const FieldProblem& problem = solved().prepared.solver->problem();
  const std::string file = scratch.file("field.vtu", vtu_text(problem, solved().solution));
  std::ofstream expected(scratch / "expected.txt");
  expected.precision(17);
  for (std::size_t m = 0; m < problem.members.size(); ++m) {
    const MemberMesh& mesh = problem.members[m].mesh;
    const double angle = solved().solution.position.of(mesh.member);
    for (int t = 0; t < mesh.triangles.rows(); ++t) {
      const Eigen::Vector2d b = flux_density(mesh, solved().solution.a[m], {t, 1.0 / 3, 1.0 / 3});
      expected << std::cos(angle) * b[0] - std::sin(angle) * b[1] << ' '
               << std::sin(angle) * b[0] + std::cos(angle) * b[1] << '\n';
    }
  }
  expected.close();
  const Outcome read = shell("/usr/bin/python3 " LODEGEAR_SOURCE_DIR "/tests/tools/read_vtu.py " +
                             file + " " + (scratch / "expected.txt"));
  INFO(read.out << read.err);
  CHECK(read.exit_code == 0);
}

TEST_CASE("picture: what is shown stands in the grid file, and numbers that are none do not",
          "[tools][pictures]") {
  const Scratch scratch;
  const FieldProblem& problem = solved().prepared.solver->problem();
  CellNumbers more{"loss_W_per_m3", {}, 0.25};
  std::ofstream expected(scratch / "expected.txt");
  expected.precision(17);
  double number = 0.0;
  for (std::size_t m = 0; m < problem.members.size(); ++m) {
    const MemberMesh& mesh = problem.members[m].mesh;
    const double angle = solved().solution.position.of(mesh.member);
    more.values.emplace_back();
    for (int t = 0; t < mesh.triangles.rows(); ++t) {
      const bool none = t % 3 == 0;
      more.values.back().push_back(none ? std::nan("") : number += 0.1);
      const Eigen::Vector2d b = flux_density(mesh, solved().solution.a[m], {t, 1.0 / 3, 1.0 / 3});
      expected << std::cos(angle) * b[0] - std::sin(angle) * b[1] << ' '
               << std::sin(angle) * b[0] + std::cos(angle) * b[1] << ' '
               << (none ? 0.25 : more.values.back().back()) << '\n';
    }
  }
  expected.close();
  const std::string file = scratch.file("f.vtu", vtu_text(problem, solved().solution, more));
  const Outcome read = shell("/usr/bin/python3 " LODEGEAR_SOURCE_DIR "/tests/tools/read_vtu.py " +
                             file + " " + (scratch / "expected.txt") + " loss_W_per_m3");
  INFO(read.out << read.err);
  CHECK(read.exit_code == 0);
}

TEST_CASE("picture: losses stand on a scale of four powers of ten", "[tools][pictures]") {
  FieldRaster raster;
  raster.points = 4;
  raster.half_width = 1.0;
  raster.samples.resize(16);
  for (FieldSample& sample : raster.samples) {
    sample.part = 1;
    sample.has_value = true;
    sample.value = 3e5F;
  }
  const PictureStyle style = settled_style(raster, {Shown::loss, 0.0, -1.0});
  CHECK(style.most == Approx(1e6));
  const std::string svg = field_svg(field_picture(raster, style), style, "t");
  for (const char* text : {">1 MW/m³<", ">100 kW/m³<", ">10 kW/m³<", ">1 kW/m³<", ">100 W/m³<"})
    CHECK_THAT(svg, Contains(text));
  // Half the scale is a hundredth of its end.
  for (FieldSample& sample : raster.samples) sample.value = 1e4F;
  const Colour half = field_picture(raster, style).at(0, 0), scale = field_colour(0.5);
  for (const auto& [x, y] : {std::pair{half.r, scale.r}, {half.g, scale.g}, {half.b, scale.b}})
    CHECK(std::abs(x - y) <= 8);  // five bits a channel
}

TEST_CASE("picture: losses and margins are drawn, or it is told what they need",
          "[tools][pictures][slow]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  for (const char* show : {"loss", "margin", "worst-margin"}) {
    const std::string out = scratch / (std::string(show) + ".svg");
    const Outcome run = program("picture " + file + " --size 120 --show " + show +
                                " --load-angle-deg 45 --out " + out);
    INFO(show << run.err);
    CHECK(run.exit_code == 0);
    CHECK_THAT(text_of_file(out), Contains(std::string(show) == "loss" ? "W/m³" : "100 %"));
  }
  const Outcome wrong = program("picture " + file + " --show heat --out " + (scratch / "x.svg"));
  CHECK(wrong.exit_code == 2);
  CHECK_THAT(wrong.err, Contains("worst-margin"));
  const std::string alone = scratch.file("alone.toml", R"([gear]
sun_pole_pairs = 2
stack_length_mm = 20
[sun.magnets]
grade = "N42"
inner_radius_mm = 10
outer_radius_mm = 14
)");
  const Outcome none = program("picture " + alone + " --show loss --out " + (scratch / "x.svg"));
  CHECK(none.exit_code == 2);
  CHECK_THAT(none.err, Contains("--show: a cycle in step needs a gear with [sun]"));
  CHECK(program("picture " + alone + " --show margin --out " + (scratch / "a.png")).exit_code == 0);
}

TEST_CASE("picture: the ending says how, and a wrong one is told", "[tools][pictures]") {
  const Scratch scratch;
  const std::string file = scratch.file("case.toml", small_case);
  for (const char* name : {"f.svg", "f.png", "f.vtu"}) {
    const Outcome run = program("picture " + file + " --size 120 --out " + (scratch / name));
    INFO(run.err);
    CHECK(run.exit_code == 0);
    CHECK(text_of_file(scratch / name).size() > 1000);
  }
  CHECK(program("picture " + file + " --out " + (scratch / "f.bmp")).exit_code == 2);
  CHECK(program("picture " + file + " --out " + (scratch / "f.png")).exit_code == 4);  // exists
}
