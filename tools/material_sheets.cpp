// tools/material_sheets.cpp — a material in a line, and in full.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/material_sheets.h"

#include <optional>

#include "cases/text_table.h"
#include "materials/constants.h"
#include "materials/words.h"

namespace lodegear {

namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string with_unit(double value, const char* unit) { return significant(value, 4) + " " + unit; }

void add(Rows& rows, const char* what, const std::string& value) {
  if (!value.empty()) rows.push_back({what, value});
}
/// Nothing where a figure is not known (none, or 0 where 0 makes no sense).
void add(Rows& rows, const char* what, std::optional<double> value, double scale,
         const char* unit) {
  if (value && *value != 0.0)
    rows.push_back({what, rounded_text(*value * scale, 6) + (*unit ? " " : "") + unit});
}

std::string short_source(const std::string& source) {
  constexpr int most = 40;
  if (width_of(source) <= most) return source;
  return source.substr(0, source.rfind(' ', most)) + " …";
}

// ---- one line -----------------------------------------------------------------------------------

std::string main_figures(const MagnetMaterial& m) {
  std::string text =
      "Br " + rounded_text(m.remanence_min, 3) + " to " + rounded_text(m.remanence_max, 3) + " T";
  if (m.intrinsic_coercivity)
    text += ", HcJ " + rounded_text(*m.intrinsic_coercivity / 1e3, 0) + " kA/m";
  if (m.working_temperature) text += ", to " + rounded_text(*m.working_temperature, 0) + " °C";
  return text;
}

std::string law_text(const Steel& s) {
  if (const auto* curve = std::get_if<BhCurve>(&s.law))
    return rounded_text(curve->polarisation(5000.0), 2) + " T at 5 kA/m";
  if (const auto* constant = std::get_if<ConstantPermeability>(&s.law))
    return "relative permeability " + number_text(constant->mu_r);
  return "exponential law";
}

std::string main_figures(const Steel& s) {
  std::string text = law_text(s);
  text += s.thickness > 0 ? ", sheet " + rounded_text(s.thickness * 1e3, 3) + " mm" : ", solid";
  return text + (s.grain_oriented ? ", grain-oriented" : "");
}

std::string main_figures(const OtherMaterial& o) {
  std::string text = rounded_text(o.density, 0) + " kg/m³, ";
  return text + (o.resistivity ? rounded_text(*o.resistivity * 1e6, 3) + " µΩ·m" : "insulator");
}

template <class Material>
std::vector<std::string> row(const Material& material) {
  return {material.name, main_figures(material), rounded_text(material.confidence, 2),
          short_source(material.source)};
}

// ---- in full ------------------------------------------------------------------------------------

Rows figures(const MagnetMaterial& m) {
  Rows rows;
  add(rows, "remanence",
      rounded_text(m.remanence_min, 4) + " to " + rounded_text(m.remanence_max, 4) +
          " T at 20 °C; the mean is used");
  add(rows, "its temperature coefficient", m.remanence_coefficient, 100, "%/K");
  add(rows, "recoil permeability", m.mu_rec, 1, "relative");
  add(rows, "coercivity HcB, least", m.coercivity, 1e-3, "kA/m");
  add(rows, "intrinsic coercivity HcJ, least", m.intrinsic_coercivity, 1e-3, "kA/m");
  add(rows, "its temperature coefficient", m.intrinsic_coefficient, 100, "%/K");
  add(rows, "working temperature as sold", m.working_temperature, 1, "°C");
  add(rows, "resistivity", m.resistivity, 1e6, "µΩ·m");
  add(rows, "density", m.density, 1, "kg/m³");
  add(rows, "thermal conductivity", m.thermal_conductivity, 1, "W/(m·K)");
  add(rows, "specific heat", m.specific_heat, 1, "J/(kg·K)");
  return rows;
}

Rows figures(const Steel& s) {
  Rows rows;
  add(rows, "law", s.curve.empty() ? law_text(s) : "curve " + s.curve);
  if (const auto* curve = std::get_if<BhCurve>(&s.law))
    for (const double h : {100.0, 1000.0, 2500.0, 5000.0, 10000.0})
      add(rows, "polarisation",
          rounded_text(curve->polarisation(h), 3) + " T at " + number_text(h) + " A/m");
  add(rows, "sheet thickness", s.thickness, 1e3, "mm");
  if (s.thickness > 0) add(rows, "stacking factor, least", s.stacking_factor, 1, "");
  for (const GuaranteedPoint& p : s.guaranteed)
    add(rows, "guaranteed", with_unit(p.j, "T at ") + number_text(p.h) + " A/m");
  for (const GuaranteedLoss& p : s.guaranteed_loss)
    add(rows, "loss, at most",
        with_unit(p.loss, "W/kg at ") + number_text(p.peak_b) + " T, " + number_text(p.frequency) +
            " Hz");
  add(rows, "coercivity", s.coercivity, 1, "A/m");
  add(rows, "resistivity", s.resistivity, 1e6, "µΩ·m");
  add(rows, "density", s.density, 1, "kg/m³");
  add(rows, "thermal conductivity", s.thermal_conductivity, 1, "W/(m·K)");
  add(rows, "specific heat", s.specific_heat, 1, "J/(kg·K)");
  return rows;
}

Rows figures(const OtherMaterial& o) {
  Rows rows;
  add(rows, "relative permeability", o.mu_r, 1, "");
  add(rows, "resistivity", o.resistivity, 1e6, "µΩ·m");
  if (!o.resistivity) add(rows, "resistivity", "insulator");
  add(rows, "density", o.density, 1, "kg/m³");
  add(rows, "thermal conductivity", o.thermal_conductivity, 1, "W/(m·K)");
  add(rows, "specific heat", o.specific_heat, 1, "J/(kg·K)");
  add(rows, "Young's modulus, short-term", o.youngs_modulus, 1e-9, "GPa");
  add(rows, "thermal expansion", o.thermal_expansion, 1e6, "µm/(m·K)");
  add(rows, "most under lasting load", o.long_term_temperature, 1, "°C");
  add(rows, "softens at", o.softening_temperature, 1, "°C");
  return rows;
}

template <class Material>
std::string sheet(const Material& material, MaterialKind kind) {
  Rows rows = figures(material);
  add(rows, "confidence", rounded_text(material.confidence, 2) + " of 1");
  std::string text = material.name + " (" + kind_text(kind) + "): " + material.description + "\n" +
                     text_table(rows, 2, false);
  text += wrapped("source: " + material.source, "  ", 96);
  if (!material.caution.empty()) text += wrapped("mind: " + material.caution, "  ", 96);
  return text;
}

}  // namespace

std::vector<std::string> material_row(const Catalogue& catalogue, MaterialKind kind,
                                      const std::string& name) {
  switch (kind) {
    case MaterialKind::magnet:
      return row(catalogue.magnet(name));
    case MaterialKind::steel:
      return row(catalogue.steel(name));
    case MaterialKind::other:
      break;
  }
  return row(catalogue.other(name));
}

std::string material_sheet(const Catalogue& catalogue, MaterialKind kind, const std::string& name) {
  switch (kind) {
    case MaterialKind::magnet:
      return sheet(catalogue.magnet(name), kind);
    case MaterialKind::steel:
      return sheet(catalogue.steel(name), kind);
    case MaterialKind::other:
      break;
  }
  return sheet(catalogue.other(name), kind);
}

}  // namespace lodegear
