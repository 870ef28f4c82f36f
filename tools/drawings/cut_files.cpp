// tools/drawings/cut_files.cpp — which parts go into which DXF file, on which layers.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/cut_files.h"

#include <algorithm>

#include "cases/units.h"
#include "materials/words.h"
#include "mesh/member_limits.h"
#include "tools/drawings/dxf.h"
#include "tools/drawings/kerf.h"
#include "tools/drawings/section_parts.h"

namespace lodegear {

using Eigen::Vector2d;

std::string part_dxf(const std::vector<FlatPart>& parts, double kerf, const std::string& note) {
  DxfDrawing drawing;
  Vector2d corner = parts.empty() ? Vector2d(0, 0) : extent(parts.front().outline).low;
  for (const FlatPart& part : parts) {
    corner = corner.cwiseMin(extent(part.outline).low);
    add_part(drawing, "CUT", kerf > 0.0 ? grown(part, kerf / 2, "--kerf-mm") : part);
    if (kerf <= 0.0) continue;
    drawing.add("AS_DRAWN", part.outline);
    for (const Loop& hole : part.holes) drawing.add("AS_DRAWN", hole);
  }
  std::string text = note;
  if (kerf > 0.0) text += ", outlines moved by half a kerf of " + rounded_text(to_mm(kerf), 3);
  drawing.add_text("NOTES", corner - Vector2d(0, 4e-3), 2e-3, text + ", mm");
  return drawing.text();
}

std::string layer_of(Member member, const std::string& part) {
  if (part == "pole piece") return "POLE_PIECES";
  if (part == "bridge") return "BRIDGES";
  if (part == "sleeve") return "SLEEVES";
  if (part == "hub") return "HUB";
  if (part == "back iron") return "BACK_IRON";
  const std::string of = member == Member::sun ? "SUN_" : "RING_";
  return of + (part == "wedge" ? "WEDGES" : "MAGNETS");
}

static double initial_angle(const Gear& gear, Member member) {
  return member == Member::modulator ? gear.modulator->initial_angle
                                     : rotor_of(gear, member).initial_angle;
}

std::string section_dxf(const Gear& gear) {
  DxfDrawing drawing;
  double reach = 0.0;
  for (const Member member : members_present(gear))
    for (const FlatPart& part : section_parts(gear, member)) {
      const FlatPart placed = turned(part, initial_angle(gear, member));
      const std::string layer = layer_of(member, part.label.part);
      drawing.add(layer, placed.outline);
      for (const Loop& hole : placed.holes) drawing.add(layer, hole);
      reach = std::max(reach, extent(placed.outline).high.x());
    }
  drawing.add_cross("AXIS", Vector2d::Zero(), reach * 1.05);
  return drawing.text();
}

std::vector<FlatPart> iron_parts(const Gear& gear, Member member) {
  if (!rotor_of(gear, member).iron) return {};
  std::vector<FlatPart> parts = section_parts(gear, member);
  const std::string wanted = member == Member::sun ? "hub" : "back iron";
  std::erase_if(parts, [&](const FlatPart& p) { return p.label.part != wanted; });
  return parts;
}

Files cut_files(const Gear& gear, const DrawOptions& options) {
  Files files;
  if (const auto parts = laminations(gear); !parts.empty())
    files.emplace_back("lamination.dxf", part_dxf(parts, options.kerf, gear.modulator->material));
  if (gear.sun && gear.sun->iron)
    files.emplace_back(
        "hub.dxf", part_dxf(iron_parts(gear, Member::sun), options.kerf, gear.sun->iron->material));
  if (gear.ring && gear.ring->iron)
    files.emplace_back("back_iron.dxf", part_dxf(iron_parts(gear, Member::ring), options.kerf,
                                                 gear.ring->iron->material));
  files.emplace_back("section.dxf", section_dxf(gear));
  return files;
}

}  // namespace lodegear
