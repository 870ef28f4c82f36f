// materials/read_steel.cpp — a steel or a curve from a table.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "materials/read_figures.h"
#include "materials/read_material.h"

namespace lodegear {

namespace {

std::vector<BhPoint> bh_points(TableReader& table) {
  std::vector<BhPoint> points;
  for (const auto& row : table.rows("bh_table", 2)) points.push_back({row[0], row[1]});
  return points;
}

/// The curve of bh_table, or none after complaints.
std::optional<BhCurve> curve_of_table(TableReader& table, double most_polarisation) {
  const std::vector<BhPoint> points = bh_points(table);
  for (const BhPoint& point : points)
    if (!std::isfinite(point.h) || !std::isfinite(point.b)) return std::nullopt;  // told already
  const std::vector<std::string> faults = bh_table_faults(points, most_polarisation);
  for (const std::string& fault : faults) table.complain("bh_table", fault);
  if (!faults.empty()) return std::nullopt;
  return BhCurve(points, most_polarisation);
}

SteelLaw exponential_law(TableReader& table) {
  const std::vector<double> k = table.numbers("exponential_law", Range::at_least(0.0), 3);
  if (k.size() != 3) {
    if (k.size() > 3)
      table.complain("exponential_law", "has more than the three numbers k1, k2, k3.");
    return ConstantPermeability{1000.0};
  }
  try {
    Reluctivity::exponential(k[0], k[1], k[2]);
  } catch (const InputError& error) {
    table.complain("exponential_law", error.what());
  }
  return ExponentialLaw{k[0], k[1], k[2]};
}

SteelLaw read_law(TableReader& table, Steel& steel, const CurveLookup& curve_of) {
  const std::string key = table.exactly_one_of({"curve", "bh_table", "exponential_law", "mu_r"});
  const double most_polarisation =
      table.optional_number("most_polarisation_T", Range::between(0.1, 2.5))
          .value_or(highest_polarisation);
  if (key == "curve") {
    steel.curve = table.text("curve");
    if (!steel.curve.empty()) return curve_of(table, "curve", steel.curve);
  }
  if (key == "bh_table")
    if (auto curve = curve_of_table(table, most_polarisation)) return *curve;
  if (key == "exponential_law") return exponential_law(table);
  if (key == "mu_r") return ConstantPermeability{table.number("mu_r", Range::between(1.0, 1e6))};
  return ConstantPermeability{1000.0};  // never used: there are complaints
}

std::vector<GuaranteedPoint> guaranteed_points(TableReader& table, const char* key) {
  std::vector<GuaranteedPoint> points;
  if (!table.has(key)) {
    table.optional_text(key);  // makes the key known
    return points;
  }
  for (const auto& row : table.rows(key, 2)) {
    const double before = points.empty() ? 0.0 : points.back().h;
    if (!(row[0] > before) || !(row[1] > 0.0) || row[1] > 2.5)
      table.complain(key, "must be rows [H in A/m, J in T] with H rising and J from 0 to 2.5.");
    points.push_back({row[0], row[1]});
  }
  return points;
}

std::vector<GuaranteedLoss> guaranteed_losses(TableReader& table) {
  std::vector<GuaranteedLoss> losses;
  if (!table.has("guaranteed_loss")) {
    table.optional_text("guaranteed_loss");
    return losses;
  }
  for (const auto& row : table.rows("guaranteed_loss", 3)) {
    if (!(row[0] > 0.0) || !(row[1] > 0.0) || !(row[2] > 0.0))
      table.complain("guaranteed_loss", "must be rows [B in T, f in Hz, p in W/kg], all positive.");
    losses.push_back({row[0], row[1], row[2]});
  }
  return losses;
}

void check_guaranteed(TableReader& table, const Steel& steel) {
  const auto* typical = std::get_if<BhCurve>(&steel.law);
  if (!typical || steel.guaranteed.empty()) return;
  try {
    guaranteed_minimum(*typical, steel.guaranteed);
  } catch (const InputError&) {
    table.complain("guaranteed_J",
                   "lies so far below the typical curve that the polarisation would fall with H; "
                   "the rows are [H in A/m, J in T].");
  }
}

std::optional<SteelLoss> read_loss(TableReader& steel) {
  std::optional<TableReader> table = steel.optional_table("loss");
  if (!table) return std::nullopt;
  SteelLoss loss;
  loss.kh = table->number("kh", Range::at_least(0.0));
  loss.alpha = table->number("alpha", Range::between(1.0, 4.0));
  loss.kc = table->number("kc", Range::at_least(0.0));
  loss.ke = table->number("ke", Range::at_least(0.0));
  loss.source = table->text("source");
  loss.confidence = table->number("confidence", share);
  table->finish();
  return loss;
}

}  // namespace

Steel read_steel(TableReader& table, const std::string& name, MaterialPlace place,
                 const CurveLookup& curve_of) {
  Steel steel;
  read_about(table, steel, name, place);
  steel.law = read_law(table, steel, curve_of);
  if (place == MaterialPlace::inline_table && table.has("bh_table") && !table.has("source"))
    table.complain("bh_table", "needs a source beside it: source = \"where the table is from\".");
  steel.thickness = 1e-3 * figure(table, "thickness_mm", place, 0.0, Range::between(0.0, 10.0));
  steel.stacking_factor = figure(table, "stacking_factor", place, 1.0, Range::between(0.5, 1.0));
  steel.density = figure(table, "density_kg_m3", place, 7800.0, Range::between(1000.0, 10000.0));
  steel.resistivity =
      1e-6 * figure(table, "resistivity_uOhm_m", place, 0.2, Range::between(0.05, 1e12));
  steel.thermal_conductivity =
      figure(table, "thermal_conductivity_W_mK", place, 40.0, Range::between(0.1, 500.0));
  steel.specific_heat =
      figure(table, "specific_heat_J_kgK", place, 470.0, Range::between(100.0, 2000.0));
  steel.coercivity = table.optional_number("coercivity_A_m", Range::between(0.0, 1e5));
  steel.guaranteed = guaranteed_points(table, "guaranteed_J");
  check_guaranteed(table, steel);
  steel.rolling_guaranteed = guaranteed_points(table, "rolling_guaranteed_J");
  steel.guaranteed_loss = guaranteed_losses(table);
  steel.grain_oriented = table.optional_flag("grain_oriented").value_or(false);
  steel.loss = read_loss(table);
  table.finish();
  return steel;
}

BhCurve read_curve(TableReader& table, const std::string& name) {
  struct About {
    std::string name, description, caution, source;
    double confidence = 0.0;
  } about;
  read_about(table, about, name, MaterialPlace::data_file);
  std::optional<BhCurve> curve = curve_of_table(table, highest_polarisation);
  table.finish();
  const std::vector<BhPoint> stand_in{{100.0, 1.0}, {1e4, 1.7}, {1e5, 2.1}};
  return curve ? *curve : BhCurve(stand_in);
}

}  // namespace lodegear
