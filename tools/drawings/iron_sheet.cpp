// tools/drawings/iron_sheet.cpp — diameters of hub and back iron, and what blocks cut into them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/iron_sheet.h"

#include "cases/units.h"
#include "materials/words.h"
#include "mesh/magnet_patterns.h"
#include "mesh/member_limits.h"
#include "tools/drawings/cut_files.h"
#include "tools/drawings/dimensions.h"
#include "tools/drawings/section_sheet.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

std::string mm(double metres) { return rounded_text(to_mm(metres), 3); }

/// Whether blocks in their pockets reach into the cylinder.
bool is_cut_into(const std::vector<FlatPart>& parts) {
  std::size_t loops = 0;
  WholeCircle circle;
  for (const FlatPart& part : parts) {
    if (!is_circle(part.outline, circle)) return true;
    loops += part.holes.size();
    for (const Loop& hole : part.holes)
      if (!is_circle(hole, circle)) return true;
  }
  return loops > parts.size();
}

std::vector<std::string> words_about(const Case& c, const MagnetRotor& rotor,
                                     const std::vector<FlatPart>& parts) {
  const auto steel = c.steels.find(rotor.iron->material);
  std::vector<std::string> lines = {
      (steel == c.steels.end() ? rotor.iron->material : steel->second.grade) + ", " +
      mm(rotor.active_length) + " mm long"};
  const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
  if (blocks && is_cut_into(parts))
    lines.push_back(std::to_string(n_magnets(rotor)) + " seats for blocks " + mm(blocks->width) +
                    " × " + mm(blocks->thickness) + " mm, " + mm(blocks->clearance) +
                    " mm wider on every side; block centres at " + mm(blocks->centre_radius) +
                    " mm from the axis: shapes as in the DXF");
  return lines;
}

Page iron_page(const Case& c, Member member) {
  const MagnetRotor& rotor = rotor_of(c.gear, member);
  const std::vector<FlatPart> parts = iron_parts(c.gear, member);
  const double outer = rotor.iron->outer_radius, inner = rotor.iron->inner_radius;
  Page page;
  Placing p;
  p.scale = usual_scale({2 * outer, 2 * outer}, {160e-3, 160e-3});
  p.origin = {105e-3, 165e-3};
  add_heading(page, c.name + ": " + (member == Member::sun ? "hub" : "back iron"),
              "Scale " + scale_text(p.scale) + ", all dimensions in mm");
  for (const FlatPart& part : parts) page.items.push_back(drawn(part, p, outline_pen, steel_tint));
  add_diameters(page, p.origin, p.scale, inner, outer);
  if (p.scale == 1.0) add_scale_check(page, {10e-3, 14e-3});
  add_lines(page.items, {10e-3, 46e-3}, 3.2e-3, words_about(c, rotor, parts));
  return page;
}

}  // namespace

Drawings iron_files(const Case& c) {
  Drawings files;
  if (c.gear.sun && c.gear.sun->iron) files.sheets.emplace_back("hub", iron_page(c, Member::sun));
  if (c.gear.ring && c.gear.ring->iron)
    files.sheets.emplace_back("back_iron", iron_page(c, Member::ring));
  return files;
}

}  // namespace lodegear
