// tests/tools/drawings/dxf_test.cpp — DXF files as an independent library reads them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "tests/mesh/gears.h"
#include "tests/tools/program.h"
#include "tools/drawings/cut_files.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;
using Json = nlohmann::json;

namespace {

/// The file read by python3-ezdxf (read_dxf.py).
Json read_back(const std::string& dxf) {
  const Scratch scratch;
  const Outcome read =
      shell("/usr/bin/python3 " LODEGEAR_SOURCE_DIR "/tests/tools/drawings/read_dxf.py " +
            scratch.file("file.dxf", dxf));
  INFO("python3-ezdxf, which tools/packages lists, must be installed: " << read.err);
  REQUIRE(read.exit_code == 0);
  return Json::parse(read.out);
}

std::string file_named(const Files& files, const std::string& name) {
  for (const auto& [file, bytes] : files)
    if (file == name) return bytes;
  FAIL("no file " << name);
  return {};
}

/// Radii of all arcs about the axis on the layer, to the micrometre.
std::set<long> radii_about_axis(const Json& read, const std::string& layer) {
  std::set<long> radii;
  for (const Json& outline : read["outlines"])
    if (outline["layer"] == layer)
      for (const Json& arc : outline["arcs"])
        if (std::hypot(arc["centre"][0].get<double>(), arc["centre"][1].get<double>()) < 1e-3)
          radii.insert(std::lround(1e3 * arc["radius"].get<double>()));
  return radii;
}

/// A sector pole piece between radii r and R with straight sides between the spans s and S, mm².
/// Two segments of circles and a trapezium (elementary geometry).
double sector_area(double r, double R, double s, double S) {
  const double a = 2 * r * std::sin(s / 2), A = 2 * R * std::sin(S / 2);
  const double height = R * std::cos(S / 2) - r * std::cos(s / 2);
  return (a + A) / 2 * height + R * R / 2 * (S - std::sin(S)) - r * r / 2 * (s - std::sin(s));
}

}  // namespace

TEST_CASE("dxf: a pole piece read back has the radii, the hole and the area of the case",
          "[tools][drawings][dxf]") {
  Gear gear = standard_gear();
  SectorPole pole = sector_pole(11 * degree, 10 * degree);
  pole.hole = RodHole{2 * mm, 34 * mm};
  gear.modulator->shape = pole;
  const Json read = read_back(file_named(cut_files(gear, {}), "lamination.dxf"));
  CHECK(read["errors"] == 0);
  CHECK(read["fixes"] == 0);
  CHECK(read["units"] == 4);  // millimetres in $INSUNITS
  REQUIRE(read["outlines"].size() == 2);
  CHECK(read["outlines"][0]["layer"] == "CUT_HOLES");
  CHECK_THAT(read["outlines"][0]["arcs"][0]["radius"].get<double>(), WithinAbs(1.0, 1e-3));
  CHECK_THAT(read["outlines"][0]["arcs"][0]["centre"][0].get<double>(), WithinAbs(34.0, 1e-3));
  CHECK(read["outlines"][1]["closed"] == true);
  CHECK(radii_about_axis(read, "CUT") == std::set<long>{31000, 37000});
  CHECK_THAT(read["outlines"][1]["area"].get<double>(),
             WithinRel(sector_area(31, 37, 11 * degree, 10 * degree), 1e-6));
}

TEST_CASE("dxf: rounded corners come back with their radii", "[tools][drawings][dxf]") {
  Gear gear = standard_gear();
  SectorPole pole = sector_pole(11 * degree, 10 * degree);
  pole.corner_inner = 0.5 * mm;
  pole.corner_outer = 1.0 * mm;
  gear.modulator->shape = pole;
  const Json read = read_back(file_named(cut_files(gear, {}), "lamination.dxf"));
  std::map<long, std::set<std::pair<long, long>>> centres;  // by radius, all in micrometres
  for (const Json& arc : read["outlines"][0]["arcs"]) {
    const auto um = [](const Json& x) { return std::lround(1e3 * x.get<double>()); };
    centres[um(arc["radius"])].emplace(um(arc["centre"][0]), um(arc["centre"][1]));
  }
  CHECK(centres[500].size() == 2);
  CHECK(centres[1000].size() == 2);
}

TEST_CASE("dxf: the section of every gear is read without error, with the radii of its parts",
          "[tools][drawings][dxf][slow]") {
  const NamedGear named = GENERATE(from_range(gears_of_every_shape()));
  INFO(named.name);
  const Json read = read_back(section_dxf(named.gear));
  CHECK(read["errors"] == 0);
  CHECK(read["fixes"] == 0);
  for (const Json& outline : read["outlines"]) {
    CHECK(outline["closed"] == true);
    CHECK(std::abs(outline["area"].get<double>()) > 0.0);
  }
  const auto& sun = named.gear.sun;
  if (sun && std::holds_alternative<ArcMagnets>(sun->shape)) {
    const auto radii = radii_about_axis(read, "SUN_MAGNETS");
    CHECK(radii == std::set<long>{std::lround(1e6 * sun->inner_radius),
                                  std::lround(1e6 * sun->outer_radius)});
  }
  if (named.gear.ring && named.gear.ring->iron)
    CHECK(radii_about_axis(read, "BACK_IRON")
              .contains(std::lround(1e6 * named.gear.ring->iron->outer_radius)));
}

TEST_CASE("dxf: with a kerf the cut lies half of it outside, and the part as drawn beside it",
          "[tools][drawings][dxf]") {
  DrawOptions options;
  options.kerf = 0.2 * mm;
  const Json read = read_back(file_named(cut_files(standard_gear(), options), "lamination.dxf"));
  CHECK(radii_about_axis(read, "CUT") == std::set<long>{30900, 37100});
  CHECK(radii_about_axis(read, "AS_DRAWN") == std::set<long>{31000, 37000});
}

TEST_CASE("dxf: letters that the format does not know do not break it", "[tools][drawings][dxf]") {
  Gear gear = standard_gear();
  gear.modulator->material = "weiß\n0\nEOF";
  CHECK(read_back(file_named(cut_files(gear, {}), "lamination.dxf"))["errors"] == 0);
}
