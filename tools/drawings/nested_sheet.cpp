// tools/drawings/nested_sheet.cpp — how close pieces may lie, and filling the sheet with them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/nested_sheet.h"

#include <algorithm>
#include <cmath>

#include "cases/figures.h"
#include "cases/units.h"
#include "materials/constants.h"
#include "materials/input_error.h"
#include "materials/words.h"
#include "tools/drawings/dxf.h"
#include "tools/drawings/kerf.h"
#include "tools/drawings/parts_list.h"
#include "tools/drawings/section_parts.h"
#include "tools/drawings/section_sheet.h"

namespace lodegear {

using Eigen::Vector2d;

int NestedSheet::sheets() const {
  const int each = static_cast<int>(parts.size());
  return each > 0 ? (wanted + each - 1) / each : 0;
}
double NestedSheet::used() const {
  double sum = 0.0;
  for (const FlatPart& part : parts) sum += area(part);
  return sum / (length * width);
}

namespace {

/// Half a turn about the middle of its extent, which stays.
FlatPart turned_over(const FlatPart& part) {
  const Extent e = extent(part.outline);
  return moved(turned(part, pi), e.low + e.high);
}

/// How far the next piece must lie along y. They come together from where they are apart for
/// certain until `room` is left.
double pitch(const FlatPart& part, double room) {
  const Loop next = turned_over(part).outline;
  const double height = extent(part.outline).size().y();
  double apart = height + room, near = 0.5 * height;
  for (int i = 0; i < 40; ++i) {
    const double middle = (apart + near) / 2;
    // Seen along y pieces of one convex hull cross as soon as one of the corners lies inside.
    const Loop there = moved(next, {0, middle});
    bool crosses = false;
    for (const Curve& c : there) crosses = crosses || winding_number(part.outline, c.from) != 0;
    for (const Curve& c : part.outline) crosses = crosses || winding_number(there, c.from) != 0;
    (crosses || distance(part.outline, there) < room ? near : apart) = middle;
  }
  return apart;
}

/// A sheet full; none if not even one fits.
std::vector<FlatPart> filled(const FlatPart& part, double length, double width, double room,
                             bool may_nest) {
  const Extent e = extent(part.outline);
  const Vector2d size = e.size();
  const double across = size.x() + room;
  const double along = may_nest ? pitch(part, room) : size.y() + room;
  const int columns = static_cast<int>(std::floor((length - room + 1e-9) / across));
  const int rows =
      width < size.y() + 2 * room
          ? 0
          : 1 + static_cast<int>(std::floor((width - 2 * room - size.y() + 1e-9) / along));
  const FlatPart over = may_nest ? turned_over(part) : part;
  std::vector<FlatPart> parts;
  for (int i = 0; i < columns; ++i)
    for (int j = 0; j < rows; ++j)
      parts.push_back(
          moved(j % 2 == 0 ? part : over, Vector2d(room + across * i, room + along * j) - e.low));
  return parts;
}

constexpr double usual_sheets[][2] = {
    {0.3, 0.2}, {0.5, 0.3}, {1.0, 0.5}, {2.0, 1.0}, {3.0, 1.5}};  // common practice, no source

}  // namespace

NestedSheet nested_sheet(const Case& c, const DrawOptions& options) {
  NestedSheet sheet;
  const int each = sheets_in_stack(c);
  const std::vector<FlatPart> pieces = laminations(c.gear);
  if (each == 0 || pieces.size() != 1) return sheet;
  sheet.wanted = each * laminations_around(c.gear);
  const double room = options.web + options.kerf;
  const bool may_nest = !c.gear.modulator->bridge;
  const bool asked = options.sheet_length > 0.0;
  for (const auto& [length, width] : usual_sheets) {
    sheet.length = asked ? options.sheet_length : length;
    sheet.width = asked ? options.sheet_width : width;
    sheet.parts = filled(pieces.front(), sheet.length, sheet.width, room, may_nest);
    if (!sheet.parts.empty()) return sheet;
    if (asked)
      throw InputError({{{}, "--sheet-mm", "is too small: not one lamination fits on the sheet."}});
  }
  return sheet;
}

Drawings sheet_files(const Case& c, const DrawOptions& options) {
  const NestedSheet sheet = nested_sheet(c, options);
  if (sheet.parts.empty()) return {};
  DxfDrawing drawing;
  const Loop edge =
      polygon({{0, 0}, {sheet.length, 0}, {sheet.length, sheet.width}, {0, sheet.width}});
  drawing.add("SHEET", edge);
  for (const FlatPart& part : sheet.parts)
    add_part(drawing, "CUT",
             options.kerf > 0.0 ? grown(part, options.kerf / 2, "--kerf-mm") : part);
  const std::string size =
      rounded_text(to_mm(sheet.length), 1) + " x " + rounded_text(to_mm(sheet.width), 1) + " mm";
  const std::string counts = std::to_string(sheet.parts.size()) + " on each sheet of " + size +
                             ", " + std::to_string(sheet.wanted) +
                             " wanted: " + std::to_string(sheet.sheets()) + " sheets";
  drawing.add_text("NOTES", {0, -5e-3}, 3e-3, counts);

  Page page;
  Placing p;
  p.scale = usual_scale({sheet.length, sheet.width}, {190e-3, 220e-3});
  p.origin = {10e-3, 262e-3 - p.scale * sheet.width};
  add_heading(page, c.name + ": laminations on the sheet", "Scale " + scale_text(p.scale));
  page.items.push_back(PageShape{{p.of(edge)}, outline_pen, std::nullopt, false});
  for (const FlatPart& part : sheet.parts)
    page.items.push_back(drawn(part, p, thin_pen, steel_tint));
  add_lines(page.items, p.origin - Vector2d(0, 8e-3), 3.2e-3,
            {counts,
             percent_text(sheet.used(), 2) + " of the sheet is used; " +
                 rounded_text(to_mm(options.web), 2) + " mm and a kerf of " +
                 rounded_text(to_mm(options.kerf), 2) + " mm stay between neighbours",
             "Deburr every piece: burrs join the sheets electrically"});
  return {{{"sheet.dxf", drawing.text()}}, {{"sheet", std::move(page)}}};
}

}  // namespace lodegear
