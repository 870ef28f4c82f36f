// tools/drawings/section_parts.cpp — from the drawing that is meshed to single parts.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/section_parts.h"

#include <algorithm>

#include "mesh/unit_drawing.h"

namespace lodegear {

std::vector<FlatPart> section_parts(const Gear& gear, Member member) {
  const UnitDrawing whole = whole_drawing(gear, mesh_plan(gear, {}), member);
  return flat_parts(whole.domain, whole.outlines);
}

/// Bridges and pole pieces under one label are one piece of sheet.
static std::vector<FlatPart> cage_in_one(const Gear& gear) {
  UnitDrawing whole = whole_drawing(gear, mesh_plan(gear, {}), Member::modulator);
  for (Outline& o : whole.outlines)
    if (o.label.kind == RegionKind::steel)
      o.label = {RegionKind::steel, gear.modulator->material, "pole pieces in one", -1};
  std::vector<FlatPart> parts = flat_parts(whole.domain, whole.outlines);
  std::erase_if(parts, [](const FlatPart& p) { return p.label.kind != RegionKind::steel; });
  return parts;
}

std::vector<FlatPart> laminations(const Gear& gear) {
  if (!gear.modulator) return {};
  if (gear.modulator->bridge) return cage_in_one(gear);
  std::vector<FlatPart> parts = section_parts(gear, Member::modulator);
  std::erase_if(
      parts, [](const FlatPart& p) { return p.label.part != "pole piece" || p.label.index != 0; });
  return parts;
}

int laminations_around(const Gear& gear) {
  return gear.modulator ? (gear.modulator->bridge ? 1 : gear.modulator->pole_pieces) : 0;
}

}  // namespace lodegear
