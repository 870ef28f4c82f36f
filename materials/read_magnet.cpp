// materials/read_magnet.cpp — a magnet or a non-magnetic solid from a table.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/read_figures.h"
#include "materials/read_material.h"
#include "materials/words.h"

namespace lodegear {

namespace {

void read_remanence(TableReader& table, MagnetMaterial& magnet) {
  const Range range = Range::between(0.01, 2.0);
  if (table.kind("remanence_T") == TomlKind::array) {
    const std::vector<double> ends = table.numbers("remanence_T", range, 2);
    if (ends.size() < 2) return;
    magnet.remanence_min = ends[0];
    magnet.remanence_max = ends[1];
    if (ends.size() > 2 || ends[0] > ends[1])
      table.complain("remanence_T", "must be one number or [least, greatest].");
  } else {
    magnet.remanence_min = magnet.remanence_max = table.number("remanence_T", range);
  }
}

void read_recoil(TableReader& table, MagnetMaterial& magnet, MaterialPlace place) {
  magnet.coercivity =
      scaled(table.optional_number("coercivity_kA_m", Range::between(1.0, 3000.0)), 1e3);
  const Range range = Range::between(1.0, 2.0);
  if (table.has("mu_rec") || place == MaterialPlace::data_file) {
    magnet.mu_rec = table.number("mu_rec", range);
  } else if (magnet.coercivity && !table.has("intrinsic_coercivity_kA_m")) {
    magnet.mu_rec = typical_remanence(magnet) / (mu0 * *magnet.coercivity);
    table.assume("mu_rec", rounded_text(magnet.mu_rec, 4));
    if (!range.holds(magnet.mu_rec))
      table.complain("coercivity_kA_m",
                     "and remanence_T give a straight line of relative permeability " +
                         rounded_text(magnet.mu_rec, 3) +
                         "; it must be from 1 to 2. Give mu_rec if the line is not straight.");
  } else {
    magnet.mu_rec = table.number_or("mu_rec", 1.05, range);
  }
}

void read_knee(TableReader& table, MagnetMaterial& magnet, MaterialPlace place) {
  const Range range = Range::between(1.0, 5000.0);
  const bool needed = place == MaterialPlace::data_file;
  magnet.intrinsic_coercivity =
      needed ? std::optional(table.number("intrinsic_coercivity_kA_m", range))
             : table.optional_number("intrinsic_coercivity_kA_m", range);
  magnet.intrinsic_coercivity = scaled(magnet.intrinsic_coercivity, 1e3);
  const Range percent = Range::between(-2.0, 2.0);
  magnet.intrinsic_coefficient =
      0.01 * (magnet.intrinsic_coercivity
                  ? figure(table, "intrinsic_coefficient_percent_K", place, -0.7, percent)
                  : table.optional_number("intrinsic_coefficient_percent_K", percent).value_or(0));
  if (magnet.coercivity && magnet.intrinsic_coercivity &&
      *magnet.coercivity > *magnet.intrinsic_coercivity)
    table.complain("coercivity_kA_m", "is HcB and cannot be above intrinsic_coercivity_kA_m, HcJ.");
}

}  // namespace

MagnetMaterial read_magnet(TableReader& table, const std::string& name, MaterialPlace place) {
  MagnetMaterial magnet;
  read_about(table, magnet, name, place);
  read_remanence(table, magnet);
  read_recoil(table, magnet, place);
  magnet.remanence_coefficient = 0.01 * figure(table, "remanence_coefficient_percent_K", place,
                                               -0.12, Range::between(-1.0, 0.0));
  read_knee(table, magnet, place);
  magnet.resistivity =
      scaled(table.optional_number("resistivity_uOhm_m", Range::between(0.1, 1e16)), 1e-6);
  magnet.density = figure(table, "density_kg_m3", place, 7500.0, Range::between(1000.0, 10000.0));
  magnet.thermal_conductivity =
      figure(table, "thermal_conductivity_W_mK", place, 8.5, Range::between(0.1, 200.0));
  magnet.specific_heat =
      figure(table, "specific_heat_J_kgK", place, 460.0, Range::between(100.0, 2000.0));
  const Range celsius = Range::between(20.0, 700.0);
  magnet.working_temperature = place == MaterialPlace::data_file
                                   ? std::optional(table.number("working_temperature_C", celsius))
                                   : table.optional_number("working_temperature_C", celsius);
  table.finish();
  return magnet;
}

OtherMaterial read_other(TableReader& table, const std::string& name, MaterialPlace place) {
  OtherMaterial m;
  read_about(table, m, name, place);
  m.mu_r = figure(table, "mu_r", place, 1.0, Range::between(0.99, 2.0));
  m.resistivity =
      scaled(table.optional_number("resistivity_uOhm_m", Range::between(1e-3, 1e20)), 1e-6);
  m.resistivity_coefficient =
      table.optional_number("resistivity_coefficient_1_K", Range::between(-0.1, 0.1)).value_or(0.0);
  m.density = figure(table, "density_kg_m3", place, 1200.0, Range::between(1.0, 25000.0));
  m.thermal_conductivity =
      figure(table, "thermal_conductivity_W_mK", place, 0.2, Range::between(0.005, 3000.0));
  m.specific_heat = table.optional_number("specific_heat_J_kgK", Range::between(50.0, 10000.0));
  m.youngs_modulus =
      scaled(table.optional_number("youngs_modulus_GPa", Range::between(1e-4, 1000.0)), 1e9);
  m.thermal_expansion =
      scaled(table.optional_number("thermal_expansion_um_mK", Range::between(-50.0, 500.0)), 1e-6);
  m.long_term_temperature =
      table.optional_number("long_term_temperature_C", Range::between(-100.0, 2000.0));
  m.softening_temperature =
      table.optional_number("softening_temperature_C", Range::between(-100.0, 2000.0));
  table.finish();
  return m;
}

}  // namespace lodegear
