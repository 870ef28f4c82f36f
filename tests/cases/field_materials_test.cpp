// tests/cases/field_materials_test.cpp — materials as the field solver gets them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/field_materials.h"

#include <catch2/catch.hpp>

#include "case_texts.h"

using namespace lodegear;
using Catch::WithinRel;

TEST_CASE("field materials: every name in the gear has a meaning", "[cases][field_materials]") {
  for (const char* text : {short_case, block_case}) {
    const Case c = read(text);
    const FieldMaterials materials = field_materials(c);
    CHECK(materials.magnets.count(c.gear.sun->magnet) == 1);
    CHECK(materials.magnets.count(c.gear.ring->magnet) == 1);
    CHECK(materials.reluctivity.count(c.gear.modulator->material) == 1);
    if (c.gear.sun->iron) CHECK(materials.reluctivity.count(c.gear.sun->iron->material) == 1);
    for (const Sleeve& sleeve : c.gear.sleeves)
      CHECK(materials.reluctivity.count(sleeve.material) == 1);
  }
}

TEST_CASE("field materials: the stacking factor thins the modulator's steel and no other",
          "[cases][field_materials]") {
  const Case c = read(with_line(short_case, 13, "material = \"M470-50A\"\nstacking_factor = 0.9"));
  const FieldMaterials materials = field_materials(c);
  const Reluctivity& hub = materials.reluctivity.at(c.gear.sun->iron->material);
  const Reluctivity& stack = materials.reluctivity.at(c.gear.modulator->material);
  // B̄ = f B + (1 − f) µ0 H at a field where the sheet has some B of its own.
  const double H = 500.0, f = 0.9;
  const double expected = f * flux_density_at(hub, H) + (1 - f) * mu0 * H;
  CHECK_THAT(flux_density_at(stack, H), WithinRel(expected, 2e-3));  // interpolation between points
}

TEST_CASE("field materials: each rotor has its own temperature", "[cases][field_materials]") {
  const Case c = read(with_more(short_case, "temperature_C = 120"));
  CHECK(c.gear.sun->magnet == "N42 at 20 °C");
  CHECK(c.gear.ring->magnet == "N42 at 120 °C");
  const FieldMaterials materials = field_materials(c);
  const double cold = materials.magnets.at(c.gear.sun->magnet).remanence;
  const double hot = materials.magnets.at(c.gear.ring->magnet).remanence;
  const double alpha = c.magnets.begin()->second.material.remanence_coefficient;
  CHECK_THAT(hot / cold, WithinRel(1 + 100 * alpha, 1e-12));  // the definition of alpha; round-off
}

TEST_CASE("field materials: the guaranteed curve carries less flux", "[cases][field_materials]") {
  const Case typical = read(short_case);
  const Case least =
      read(with_line(short_case, 5, "stack_length_mm = 25\nsteel_curve = \"guaranteed minimum\""));
  const std::string steel = typical.gear.sun->iron->material;
  const double b_typical = flux_density_at(field_materials(typical).reluctivity.at(steel), 5000.0);
  const double b_least = flux_density_at(field_materials(least).reluctivity.at(steel), 5000.0);
  CHECK(b_least < b_typical - 0.01);
}

TEST_CASE("field materials: materials of one's own take precedence", "[cases][field_materials]") {
  const Case c = read(with_more(with_line(short_case, 7, "material = \"flat\""),
                                "[materials.flat]\nkind = \"steel\"\nmu_r = 800\n"
                                "[materials.N42]\nkind = \"magnet\"\nremanence_T = 1.1\n"
                                "mu_rec = 1.07"));
  const FieldMaterials materials = field_materials(c);
  CHECK_THAT(materials.reluctivity.at("flat").at(1.0).nu, WithinRel(nu0 / 800, 1e-14));
  CHECK(materials.magnets.at(c.gear.sun->magnet).remanence == 1.1);
  CHECK(materials.magnets.at(c.gear.sun->magnet).mu_rec == 1.07);
}

TEST_CASE("field materials: a wall of air in a gap changes nothing", "[cases][field_materials]") {
  const Case c = read(with_line(block_case, 25, "material = \"air\""));
  CHECK(field_materials(c).reluctivity.at(c.gear.sleeves[0].material).at(1.0).nu == nu0);
}
