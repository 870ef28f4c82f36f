// tests/materials/inline_material_test.cpp — materials given inside a case file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "materials/catalogue.h"
#include "tests/materials/materials_of_tests.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinRel;

namespace {

struct InlineText {
  explicit InlineText(const std::string& text)
      : document(toml_document(text, "case.toml")), table(document, log, "materials.mine") {}
  Steel steel() { return Catalogue().inline_steel(table, "mine"); }
  MagnetMaterial magnet() { return read_magnet(table, "mine", MaterialPlace::inline_table); }
  std::string complaints() const {
    std::string all;
    for (const Complaint& c : log.complaints) all += to_string(c) + "\n";
    return all;
  }
  TomlDocument document;
  ReadLog log;
  TableReader table;
};

}  // namespace

TEST_CASE("inline steel: a table with a source", "[materials][inline]") {
  InlineText text(
      "bh_table = [[0, 0], [100, 0.8], [300, 1.3], [1000, 1.5], [10000, 1.75]]\n"
      "source = \"measured on a ring\"\n");
  const Steel steel = text.steel();
  REQUIRE(text.complaints().empty());
  CHECK(std::get<BhCurve>(steel.law).carried_on());
  CHECK(steel.source == "measured on a ring");
  CHECK_FALSE(text.log.assumed.empty());  // density and the rest
  CHECK_THAT(reluctivity(steel).at(0.25).nu, WithinRel(100.0 / 0.8, 1e-12));  // the straight start
}

TEST_CASE("inline steel: the exponential law and a constant", "[materials][inline]") {
  InlineText law("exponential_law = [3.5, 2.14, 95]\n");
  const Steel steel = law.steel();
  REQUIRE(law.complaints().empty());
  CHECK_THAT(reluctivity(steel).at(1.0).nu,
             WithinRel(3.5 * std::exp(2.14) + 95.0, 1e-14));  // the formula
  InlineText constant("mu_r = 1000\n");
  const Steel block = constant.steel();
  REQUIRE(constant.complaints().empty());
  CHECK_THAT(reluctivity(block).at(1.0).nu, WithinRel(nu0 / 1000.0, 1e-14));
  // Stacked: 0.9 of µr 1000 beside 0.1 of air.
  CHECK_THAT(reluctivity(block, 0.9).at(1.0).nu, WithinRel(nu0 / 900.1, 1e-14));
}

TEST_CASE("inline steel: a stack of exponential law follows the stacking rule",
          "[materials][inline]") {
  InlineText text("exponential_law = [3.5, 2.14, 95]\n");
  const Steel steel = text.steel();
  const Reluctivity solid = reluctivity(steel), stack = reluctivity(steel, 0.95);
  for (double b = 0.05; b < 2.6; b += 0.01) {
    const double h = solid.at(b * b).nu * b, mean = 0.95 * b + 0.05 * mu0 * h;
    const double found = stack.at(mean * mean).nu * mean;
    CHECK_THAT(found, WithinRel(h, 1e-3));  // the sampled law promises a thousandth in H
  }
}

TEST_CASE("inline steel: a curve of the catalogue by name", "[materials][inline]") {
  InlineText good("curve = \"no-b\"\n");
  CHECK(good.steel().curve == "no-b");
  CHECK(good.complaints().empty());
  InlineText bad("curve = \"NO-X\"\n");
  bad.steel();
  CHECK_THAT(bad.complaints(), Contains("case.toml:1:1: materials.mine.curve: there is no curve "
                                        "\"NO-X\". Did you mean NO-A"));
}

TEST_CASE("inline steel: mistakes are complaints about their key", "[materials][inline]") {
  const auto complaint = [](const std::string& text) {
    InlineText inline_text(text);
    inline_text.steel();
    return inline_text.complaints();
  };
  CHECK_THAT(complaint("density_kg_m3 = 7800\n"),
             Contains("needs one of curve, bh_table, exponential_law or mu_r."));
  CHECK_THAT(complaint("mu_r = 100\ncurve = \"NO-A\"\n"),
             Contains("mu_r: cannot stand beside curve"));
  CHECK_THAT(complaint("mu_r = 0.5\n"), Contains("at least 1"));
  CHECK_THAT(complaint("bh_table = [[0,0],[100,1],[200,1.4],[300,1.5]]\n"),
             Contains("needs a source beside it"));
  CHECK_THAT(complaint("source = \"x\"\nbh_table = [[0,0],[100,1],[200,0.9],[300,1.5]]\n"),
             Contains("materials.mine.bh_table: B does not rise at H = 200 A/m"));
  CHECK_THAT(complaint("source = \"x\"\nbh_table = [[0,0],[100,nan],[200,0.9],[300,1.5]]\n"),
             Contains("bh_table[2]: is nan"));
  CHECK_THAT(complaint("exponential_law = [1, 2]\n"), Contains("at least 3 numbers"));
  CHECK_THAT(complaint("exponential_law = [1, 2, 3, 4]\n"), Contains("more than the three"));
  CHECK_THAT(complaint("exponential_law = [0, 2, 0]\n"), Contains("k1 + k3 from 0.5"));
  CHECK_THAT(complaint("mu_r = 100\nstaking_factor = 0.9\n"),
             Contains("did you mean stacking_factor?"));
  CHECK_THAT(complaint("curve = \"NO-A\"\nguaranteed_J = [[2500, 0.15]]\n"),
             Contains("materials.mine.guaranteed_J: lies so far below"));
  CHECK_THAT(complaint("curve = \"NO-A\"\nguaranteed_J = [[2500, 1.5], [1000, 1.6]]\n"),
             Contains("with H rising"));
  CHECK_THAT(complaint("mu_r = 100\n[loss]\nkh = 1\n"),
             Contains("materials.mine.loss.alpha: is missing"));
}

TEST_CASE("inline steel: cobalt iron may raise the limit of polarisation", "[materials][inline]") {
  const std::string table =
      "source = \"x\"\nbh_table = [[0,0],[100,1],[500,2.0],[5000,2.25],[50000,2.40]]\n";
  InlineText plain(table);
  plain.steel();
  CHECK_THAT(plain.complaints(), Contains("more than 2.16 T"));
  InlineText cobalt(table + "most_polarisation_T = 2.4\n");
  const Steel steel = cobalt.steel();
  CHECK(cobalt.complaints().empty());
  CHECK_NOTHROW(reluctivity(steel, 0.97));
}

TEST_CASE("inline magnet: one remanence and a recoil permeability are enough",
          "[materials][inline]") {
  InlineText text("remanence_T = 1.30\nmu_rec = 1.05\n");
  const MagnetMaterial magnet = text.magnet();
  REQUIRE(text.complaints().empty());
  CHECK(typical_remanence(magnet) == 1.30);
  CHECK_FALSE(magnet.intrinsic_coercivity);
}

TEST_CASE("inline magnet: a straight sheet gives the permeability by its coercivity",
          "[materials][inline]") {
  InlineText text("remanence_T = [0.65, 0.71]\ncoercivity_kA_m = 450\n");
  // 0.68/(4π·1e-7·450e3) = 1.2025, by hand
  CHECK_THAT(text.magnet().mu_rec, WithinRel(1.2025, 1e-4));
  CHECK(text.complaints().empty());
  InlineText impossible("remanence_T = 1.3\ncoercivity_kA_m = 1100\n");
  impossible.magnet();
  CHECK_THAT(impossible.complaints(),
             Contains("relative permeability 0.94; it must be from 1 to 2"));
}

TEST_CASE("inline magnet: mistakes are complaints about their key", "[materials][inline]") {
  const auto complaint = [](const std::string& text) {
    InlineText inline_text(text);
    inline_text.magnet();
    return inline_text.complaints();
  };
  CHECK_THAT(complaint("mu_rec = 1.05\n"), Contains("remanence_T: is missing"));
  CHECK_THAT(complaint("remanence_T = 13\n"), Contains("at most 2"));
  CHECK_THAT(complaint("remanence_T = [1.3, 1.2]\n"), Contains("[least, greatest]"));
  CHECK_THAT(complaint("remanence_T = [1.3]\n"), Contains("at least 2 numbers"));
  CHECK_THAT(complaint("remanence_T = 1.3\nmu_rec = 0.9\n"), Contains("at least 1"));
  CHECK_THAT(
      complaint("remanence_T = 1.3\ncoercivity_kA_m = 950\nintrinsic_coercivity_kA_m = 900\n"),
      Contains("cannot be above intrinsic_coercivity_kA_m"));
}
