// cases/read_modulator.cpp — [modulator]: pole pieces and the bridges that hold them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "cases/read_gear.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

const Range span_range{.least = 0.0, .most = 360.0, .least_open = true};

void read_spans(TableReader& table, int pole_pieces, SectorPole& pole) {
  const double pitch = 360.0 / pole_pieces;
  const bool in_degrees = table.has("span_inner_deg") || table.has("span_outer_deg");
  if (!in_degrees) {
    const Range range{.least = 0.0, .most = 100.0, .least_open = true, .most_open = true};
    const double share = table.number_or("span_percent", 50.0, range) / 100.0;
    pole.span_inner = pole.span_outer = from_deg(share * pitch);
  } else {
    refuse(table, {"span_percent"},
           "cannot stand beside span_inner_deg and span_outer_deg; give the one or the others.");
  }
  const auto inner = table.optional_number("span_inner_deg", span_range);
  const auto outer = table.optional_number("span_outer_deg", span_range);
  if (inner && !outer) table.assume("span_outer_deg", number_text(*inner));
  if (outer && !inner) table.assume("span_inner_deg", number_text(*outer));
  if (inner || outer) {
    pole.span_inner = from_deg(inner ? *inner : *outer);
    pole.span_outer = from_deg(outer ? *outer : *inner);
  }
}

std::optional<RodHole> read_hole(TableReader& table, double middle_radius_mm) {
  const auto diameter = table.optional_number("hole_diameter_mm", length_range);
  if (!diameter) {
    refuse(table, {"hole_centre_radius_mm"}, "needs hole_diameter_mm beside it.");
    return std::nullopt;
  }
  return RodHole{from_mm(*diameter),
                 from_mm(table.number_or("hole_centre_radius_mm", middle_radius_mm, length_range))};
}

SectorPole read_sector(TableReader& table, Modulator& modulator) {
  SectorPole pole;
  const double inner = table.number("inner_radius_mm", length_range);
  const double outer = table.number("outer_radius_mm", length_range);
  modulator.inner_radius = from_mm(inner);
  modulator.outer_radius = from_mm(outer);
  read_spans(table, modulator.pole_pieces, pole);
  pole.corner_inner = from_mm(table.number_or("corner_radius_inner_mm", 0.0, length_or_zero));
  pole.corner_outer = from_mm(table.number_or("corner_radius_outer_mm", 0.0, length_or_zero));
  pole.hole = read_hole(table, (inner + outer) / 2);
  refuse(table, {"bar_diameter_mm", "centre_radius_mm"},
         "belongs to shape = \"bars\"; leave it out, or write shape = \"bars\".");
  return pole;
}

RoundBar read_bar(TableReader& table, Modulator& modulator) {
  RoundBar bar;
  bar.diameter = from_mm(table.number("bar_diameter_mm", length_range));
  bar.centre_radius = from_mm(table.number("centre_radius_mm", length_range));
  modulator.inner_radius = bar.centre_radius - bar.diameter / 2;
  modulator.outer_radius = bar.centre_radius + bar.diameter / 2;
  refuse(table,
         {"inner_radius_mm", "outer_radius_mm", "span_percent", "span_inner_deg", "span_outer_deg",
          "corner_radius_inner_mm", "corner_radius_outer_mm", "hole_diameter_mm",
          "hole_centre_radius_mm"},
         "belongs to shape = \"sectors\"; leave it out.");
  return bar;
}

Bridge read_bridge(TableReader& table) {
  Bridge bridge;
  bridge.place = table.choice<BridgePlace>("place", {{"inner", BridgePlace::inner},
                                                     {"middle", BridgePlace::middle},
                                                     {"outer", BridgePlace::outer}});
  bridge.thickness = from_mm(table.number("thickness_mm", length_range));
  table.finish();
  return bridge;
}

}  // namespace

ModulatorInFile read_modulator(TableReader& table, int pole_pieces, const CommonValues& common) {
  ModulatorInFile result;
  Modulator& modulator = result.modulator;
  enum class ShapeWord { sectors, bars };
  modulator.pole_pieces = pole_pieces;
  modulator.material = table.text("material");
  result.stacking_factor = table.optional_number("stacking_factor", Range::between(0.3, 1.0));
  if (table.has("rolling_direction"))
    result.rolling_direction = table.choice<RollingDirection>(
        "rolling_direction", {{"radial", RollingDirection::radial},
                              {"tangential", RollingDirection::tangential},
                              {"mixed", RollingDirection::mixed}});
  const auto shape = table.choice_or<ShapeWord>(
      "shape", "sectors", {{"sectors", ShapeWord::sectors}, {"bars", ShapeWord::bars}});
  if (shape == ShapeWord::sectors)
    modulator.shape = read_sector(table, modulator);
  else
    modulator.shape = read_bar(table, modulator);
  if (auto bridge = table.optional_table("bridge")) modulator.bridge = read_bridge(*bridge);
  read_placement(table, common, modulator);
  table.finish();
  return result;
}

}  // namespace lodegear
