// tools/drawings/carrier_files.cpp — which carrier goes into which file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/carrier_files.h"

#include <cmath>

#include "cases/units.h"
#include "materials/words.h"
#include "mesh/magnet_patterns.h"
#include "mesh/member_limits.h"
#include "tools/drawings/carriers.h"
#include "tools/drawings/dimensions.h"
#include "tools/drawings/dxf.h"
#include "tools/drawings/section_sheet.h"
#include "tools/drawings/stl.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

std::string mm(double metres) { return rounded_text(to_mm(metres), 3); }

struct Radii {
  double inner = 0.0, outer = 0.0;
};
Radii radii_of(const std::vector<Loop>& loops) {
  Radii radii;
  for (const Loop& loop : loops) {
    const double r = extent(loop).high.x();
    radii.inner = radii.outer == 0.0 ? r : std::min(radii.inner, r);
    radii.outer = std::max(radii.outer, r);
  }
  if (radii.inner == radii.outer) radii.inner = 0.0;  // no bore
  return radii;
}

/// True size where the paper allows it, with a check of it.
Page sheet_of(const std::string& title, const std::string& below,
              const std::vector<FlatPart>& parts, const Radii& radii, Placing& p) {
  Page page;
  p.scale = std::min(1.0, usual_scale({2 * radii.outer, 2 * radii.outer}, {180e-3, 180e-3}));
  p.origin = {105e-3, 160e-3};
  add_heading(page, title, "Scale " + scale_text(p.scale) + ", all dimensions in mm; " + below);
  for (const FlatPart& part : parts) page.items.push_back(drawn(part, p, thin_pen, sleeve_tint));
  for (const Vector2d& d : {Vector2d(4e-3, 0), Vector2d(0, 4e-3)})
    page.items.push_back(line_on_page(p.origin - d, p.origin + d));
  add_diameters(page, p.origin, p.scale, radii.inner, radii.outer);
  if (p.scale == 1.0) add_scale_check(page, {10e-3, 14e-3});
  return page;
}

std::vector<std::string> words_about(const Carrier& carrier, const std::string& pockets) {
  std::vector<std::string> lines;
  if (!pockets.empty()) lines.push_back(pockets);
  std::string heights = mm(carrier.stack) + " mm high";
  if (carrier.plate > 0.0)
    heights += ", on a plate of " + mm(carrier.plate) + " mm that ends at ⌀ " +
               mm(2 * radii_of(carrier.domain.loops).outer) +
               " and stops what is put in; the STL has both";
  lines.push_back(heights);
  if (carrier.thinnest < thinnest_wall)
    lines.push_back("Only " + mm(carrier.thinnest) +
                    " mm stand between pockets in places: too thin for a usual printer");
  return lines;
}

void add(Drawings& files, const Case& c, const std::string& name, const std::string& title,
         const std::optional<Carrier>& carrier, const std::string& pockets) {
  if (!carrier) return;
  const std::vector<FlatPart> parts = fingers(*carrier);
  DxfDrawing drawing;
  for (const FlatPart& part : parts) add_part(drawing, "CUT", part);
  if (carrier->plate > 0.0)
    for (const Loop& loop : carrier->domain.loops) drawing.add("PLATE", loop);
  files.files.emplace_back(name + ".dxf", drawing.text());
  Placing p;
  Page page =
      sheet_of(c.name + ": " + title, "cross-section", parts, radii_of(carrier->domain.loops), p);
  if (carrier->plate > 0.0)
    for (const Loop& loop : carrier->domain.loops)
      page.items.push_back(PageShape{{p.of(loop)}, hidden_pen, std::nullopt, false});
  add_lines(page.items, {10e-3, 46e-3}, 3.2e-3, words_about(*carrier, pockets));
  files.sheets.emplace_back(name, std::move(page));
  files.files.emplace_back(name + ".stl", stl_bytes(*carrier, c.name + " " + title));
}

PageText too_large() {
  return {{10e-3, 56e-3},
          "Too large for this page at true size: drill by the DXF, not by this.",
          3.2e-3,
          Anchor::start,
          0.0,
          true};
}

void add_template(Drawings& files, const Case& c, const DrawOptions& options) {
  const auto ring = end_ring(c, options);
  if (!ring) return;
  DxfDrawing drawing;
  add_part(drawing, "CUT", *ring);
  Placing p;
  std::vector<Loop> edges = {ring->outline};
  WholeCircle hole;
  for (const Loop& loop : ring->holes)
    if (is_circle(loop, hole) && hole.centre.norm() < hole.radius) edges.push_back(loop);
  Page page = sheet_of(c.name + ": drilling template, end ring of the modulator",
                       "for the end rings", {*ring}, radii_of(edges), p);
  if (p.scale < 1.0) page.items.push_back(too_large());
  int drilled = 0;
  WholeCircle last;
  for (const Loop& loop : ring->holes) {
    if (!is_circle(loop, hole) || hole.centre.norm() < hole.radius) continue;  // the bore
    ++drilled;
    last = hole;
    drawing.add_cross("CENTRES", hole.centre, 1.5 * hole.radius);
    for (const Vector2d& d : {Vector2d(1, 0), Vector2d(0, 1)})
      page.items.push_back(line_on_page(p.of(hole.centre - 1.5 * hole.radius * d),
                                        p.of(hole.centre + 1.5 * hole.radius * d)));
  }
  const std::string words = std::to_string(drilled) + " holes ⌀ " + mm(2 * last.radius) +
                            " on a circle of ⌀ " + mm(2 * last.centre.norm()) + ", every " +
                            rounded_text(360.0 / drilled, 4) + "°";
  const Extent e = extent(ring->outline);
  add_lines(page.items, {10e-3, 46e-3}, 3.2e-3,
            {words, "Drill both rings clamped together, a pin left in the first hole"});
  drawing.add_text("NOTES", e.low - Vector2d(0, 5e-3), 3e-3,
                   std::to_string(drilled) + " holes dia " + mm(2 * last.radius) +
                       " on a circle of dia " + mm(2 * last.centre.norm()) + ", mm");
  files.files.emplace_back("drilling_template.dxf", drawing.text());
  files.sheets.emplace_back("drilling_template", std::move(page));
}

}  // namespace

Drawings carrier_files(const Case& c, const DrawOptions& options) {
  Drawings files;
  for (const Member member : members_present(c.gear)) {
    if (member == Member::modulator) continue;
    const MagnetRotor& rotor = rotor_of(c.gear, member);
    const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape);
    const std::string pockets =
        blocks ? std::to_string(n_magnets(rotor)) + " pockets for blocks " + mm(blocks->width) +
                     " × " + mm(blocks->thickness) + " mm, " + mm(blocks->clearance) +
                     " mm wider on every side, corners relieved by " + mm(options.relief) + " mm"
               : std::string();
    add(files, c, std::string(name_of(member)) + "_carrier",
        std::string("carrier of the ") + name_of(member), rotor_carrier(c, member, options),
        pockets);
  }
  add(files, c, "cage", "cage of the pole pieces", cage(c, options),
      c.gear.modulator
          ? std::to_string(c.gear.modulator->pole_pieces) + " pockets for pole pieces, " +
                mm(options.fit) + " mm wider on every side"
          : std::string());
  add_template(files, c, options);
  return files;
}

}  // namespace lodegear
