// tools/drawings/section_sheet.cpp — dimensions of the lamination, radii of the section.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/section_sheet.h"

#include <algorithm>
#include <cmath>

#include "cases/figures.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/constants.h"
#include "materials/words.h"
#include "mesh/member_limits.h"
#include "mesh/shapes/sector_pole.h"
#include "tools/drawings/dimensions.h"
#include "tools/drawings/section_parts.h"

namespace lodegear {

using Eigen::Vector2d;

double usual_scale(const Vector2d& size, const Vector2d& room) {
  const double most = (room.array() / size.array()).minCoeff();
  for (const double scale : {50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02})
    if (scale <= most) return scale;
  return 0.01;
}

std::string scale_text(double scale) {
  return scale >= 1.0 ? number_text(scale) + ":1" : "1:" + rounded_text(1 / scale, 0);
}

namespace {

std::string mm(double metres) { return rounded_text(to_mm(metres), 3); }

/// Lines of words about the piece that the picture does not say.
std::vector<std::string> about_lamination(const Case& c) {
  const Modulator& m = *c.gear.modulator;
  const auto steel = c.steels.find(m.material);
  const double sheet = steel == c.steels.end() ? 0.0 : steel->second.material.thickness;
  const std::string n = std::to_string(m.pole_pieces);
  std::vector<std::string> lines;
  if (m.bridge)
    lines.push_back("One piece with " + n + " pole pieces, held by a bridge of " +
                    mm(m.bridge->thickness) + " mm");
  else
    lines.push_back(n + (sheet > 0.0 ? " stacks of these, every " : " of these, every ") +
                    rounded_text(360.0 / m.pole_pieces, 4) + "°");
  if (steel != c.steels.end())
    lines.push_back("Material " + steel->second.grade +
                    (sheet > 0.0 ? ", sheet of " + mm(sheet) + " mm" : ", solid"));
  lines.push_back(mm(m.active_length) + " mm long");
  const auto* pole = std::get_if<SectorPole>(&m.shape);
  if (pole && (pole->corner_inner > 0.0 || pole->corner_outer > 0.0))
    lines.push_back("Widths and angles are those of the sides drawn on to sharp corners");
  return lines;
}

void dimension_sector(Page& page, const Placing& p, const Modulator& m, const SectorPole& pole) {
  const double half_out = pole.span_outer / 2, half_in = pole.span_inner / 2;
  const Vector2d out_low = p.of(polar(m.outer_radius, -half_out));
  const Vector2d out_high = p.of(polar(m.outer_radius, half_out));
  const Vector2d in_low = p.of(polar(m.inner_radius, -half_in));
  const Vector2d in_high = p.of(polar(m.inner_radius, half_in));
  const double chord_out = 2 * m.outer_radius * std::sin(half_out);
  const double chord_in = 2 * m.inner_radius * std::sin(half_in);
  const double right = p.of(Vector2d(m.outer_radius, 0)).x() + 8e-3;
  add_dimension(page, out_low, out_high, out_low.x() - right,
                mm(chord_out) + " (" + rounded_text(to_deg(pole.span_outer), 3) + "°)");
  const double left = in_low.x() - 8e-3;
  add_dimension(page, in_high, in_low, left - in_low.x(),
                mm(chord_in) + " (" + rounded_text(to_deg(pole.span_inner), 3) + "°)");
  const double low = std::min(out_low.y(), in_low.y());
  const Vector2d foot_in(p.of(Vector2d(m.inner_radius, 0)).x(), low);
  const Vector2d foot_out(p.of(Vector2d(m.outer_radius, 0)).x(), low);
  add_dimension(page, foot_in, foot_out, -12e-3, mm(m.outer_radius - m.inner_radius));
  const double top = std::max(out_high.y(), in_high.y());
  add_leader(page, p.of(polar(m.outer_radius, 0.55 * half_out)), Vector2d(right + 4e-3, top + 9e-3),
             "R " + mm(m.outer_radius));
  add_leader(page, p.of(polar(m.inner_radius, 0.55 * half_in)), Vector2d(left - 4e-3, top + 9e-3),
             "R " + mm(m.inner_radius), true);
  const bool all_equal = pole.corner_inner == pole.corner_outer;
  const auto rounding = [&](const std::optional<RoundedCorner>& corner, double radius, bool inner) {
    if (radius <= 0.0 || !corner) return;
    const Vector2d low_side(corner->on_side.x(), -corner->on_side.y());
    add_leader(page, p.of(low_side), Vector2d(inner ? left - 4e-3 : right + 4e-3, low - 9e-3),
               (all_equal ? "4 corners: R " : "2 corners: R ") + mm(radius), inner);
  };
  if (all_equal) {
    rounding(outer_corner(pole, m), pole.corner_outer, false);
  } else {
    rounding(inner_corner(pole, m), pole.corner_inner, true);
    rounding(outer_corner(pole, m), pole.corner_outer, false);
  }
  if (pole.hole) {
    const Vector2d hole(pole.hole->centre_radius, 0);
    add_leader(
        page, p.of(hole + polar(pole.hole->diameter / 2, pi / 3)),
        Vector2d(p.of(hole).x() + 6e-3, top + 16e-3),
        "⌀ " + mm(pole.hole->diameter) + " at " + mm(pole.hole->centre_radius) + " from the axis");
  }
}

void dimension_bar(Page& page, const Placing& p, const RoundBar& bar) {
  const Vector2d centre(bar.centre_radius, 0), up(0, bar.diameter / 2);
  add_dimension(page, p.of(centre - up), p.of(centre + up), -p.scale * bar.diameter / 2 - 8e-3,
                "⌀ " + mm(bar.diameter));
  add_leader(page, p.of(centre), p.of(centre) + Vector2d(-20e-3, p.scale * bar.diameter / 2 + 9e-3),
             "axis of the gear at " + mm(bar.centre_radius), true);
}

}  // namespace

/// Parts as large as a usual scale lets them be in `room`, with their middle at `middle`.
static Placing placed_in(const std::vector<FlatPart>& parts, const Vector2d& room,
                         const Vector2d& middle) {
  Placing p;
  const Extent e = extent(parts.front().outline);
  p.scale = usual_scale(e.size(), room);
  p.origin = middle - p.scale * (e.low + e.high) / 2;
  return p;
}

static void add_parts(Page& page, const std::vector<FlatPart>& parts, const Placing& p) {
  for (const FlatPart& part : parts) page.items.push_back(drawn(part, p, outline_pen, steel_tint));
}

/// The piece as it would be without bridges, whose dimensions are the case's.
static std::vector<FlatPart> single_piece(Gear gear) {
  gear.modulator->bridge.reset();
  return laminations(gear);
}

Page lamination_page(const Case& c) {
  const Modulator& m = *c.gear.modulator;
  Page page;
  const std::vector<FlatPart> piece = single_piece(c.gear);
  const Placing p = m.bridge ? placed_in(piece, {60e-3, 60e-3}, {105e-3, 100e-3})
                             : placed_in(piece, {110e-3, 110e-3}, {105e-3, 165e-3});
  add_heading(page, c.name + ": " + (m.bridge ? "lamination of the modulator" : "pole piece"),
              "Scale " + scale_text(p.scale) + ", all dimensions in mm; the DXF has them exactly");
  add_parts(page, piece, p);
  if (const auto* pole = std::get_if<SectorPole>(&m.shape))
    dimension_sector(page, p, m, *pole);
  else
    dimension_bar(page, p, std::get<RoundBar>(m.shape));
  if (m.bridge) {
    const std::vector<FlatPart> whole = laminations(c.gear);
    const Placing w = placed_in(whole, {180e-3, 100e-3}, {105e-3, 215e-3});
    add_parts(page, whole, w);
    page.items.push_back(PageText{
        {105e-3, 215e-3}, "whole, " + scale_text(w.scale), 3e-3, Anchor::middle, 0.0, false});
  }
  add_lines(page.items, {10e-3, 40e-3}, 3.2e-3, about_lamination(c));
  return page;
}

namespace {

using Rows = std::vector<std::vector<std::string>>;

void add_rotor_rows(Rows& rows, const Gear& gear, Member member) {
  const MagnetRotor& rotor = rotor_of(gear, member);
  const RadialExtent body = body_extent(rotor);
  const std::string name = name_of(member);
  rows.push_back({"magnets of the " + name, mm(body.inner), mm(body.outer)});
  if (rotor.iron)
    rows.push_back({member == Member::sun ? "hub" : "back iron", mm(rotor.iron->inner_radius),
                    mm(rotor.iron->outer_radius)});
}

void add_sleeve_rows(Rows& rows, const Gear& gear, Gap gap) {
  for (const Sleeve& sleeve : gear.sleeves)
    if (sleeve.gap == gap)
      rows.push_back(
          {"sleeve, " + sleeve.material, mm(sleeve.inner_radius), mm(sleeve.outer_radius)});
}

/// From the axis outwards.
Rows radii(const Gear& gear) {
  Rows rows = {{"radii, mm", "inner", "outer"}};
  for (const Member member : members_present(gear)) {
    if (member == Member::ring)
      add_sleeve_rows(rows, gear, gear.modulator ? Gap::outer : Gap::inner);
    if (member != Member::modulator) {
      add_rotor_rows(rows, gear, member);
      continue;
    }
    add_sleeve_rows(rows, gear, Gap::inner);
    const RadialExtent body = body_extent(*gear.modulator);
    rows.push_back({"pole pieces", mm(body.inner), mm(body.outer)});
  }
  return rows;
}

void add_gap_rows(Rows& rows, const Gear& gear, Gap gap, const std::string& name) {
  const GapClearance clear = gap_clearance(gear, gap);
  rows.push_back({"magnetic gap, " + name, mm(clear.magnetic)});
  if (std::none_of(gear.sleeves.begin(), gear.sleeves.end(),
                   [gap](const Sleeve& s) { return s.gap == gap; }))
    return;
  rows.push_back({"clear below the sleeve", mm(clear.running_inner)});
  rows.push_back({"clear above the sleeve", mm(clear.running_outer)});
}

/// What must stay clear, and how long everything is.
Rows gaps_and_lengths(const Gear& gear) {
  Rows rows = {{"gaps and lengths, mm", ""}};
  const auto members = members_present(gear);
  if (members.size() > 1)
    add_gap_rows(rows, gear, Gap::inner, members.size() > 2 ? "inner" : "between the rotors");
  if (members.size() > 2) add_gap_rows(rows, gear, Gap::outer, "outer");
  for (const Member member : members)
    rows.push_back({std::string(name_of(member)) + ", along the axis",
                    mm(member == Member::modulator ? gear.modulator->active_length
                                                   : rotor_of(gear, member).active_length)});
  return rows;
}

/// The first column of numbers ends 22 mm right of `first`.
void add_table(Page& page, Vector2d at, double first, const Rows& rows) {
  constexpr double type = 2.8e-3;
  for (const auto& row : rows) {
    page.items.push_back(
        PageText{at, row[0], fitting_height(row[0], type, first + 8e-3), Anchor::start, 0, false});
    for (std::size_t i = 1; i < row.size(); ++i)
      page.items.push_back(PageText{at + Vector2d(first + 22e-3 * static_cast<double>(i), 0),
                                    row[i], type, Anchor::end, 0, false});
    at.y() -= 1.6 * type;
  }
}

double initial_angle(const Gear& gear, Member member) {
  return member == Member::modulator ? gear.modulator->initial_angle
                                     : rotor_of(gear, member).initial_angle;
}

}  // namespace

Page section_page(const Case& c) {
  Page page;
  double reach = 0.0;
  std::vector<FlatPart> parts;
  for (const Member member : members_present(c.gear))
    for (const FlatPart& part : section_parts(c.gear, member)) {
      parts.push_back(turned(part, initial_angle(c.gear, member)));
      reach = std::max(reach, extent(parts.back().outline).high.x());
    }
  Placing p;
  p.scale = usual_scale(Vector2d(2 * reach, 2 * reach), {184e-3, 184e-3});
  p.origin = {105e-3, 170e-3};
  add_heading(page, c.name + ": cross-section",
              kind_of_machine(c.gear) + " " + pole_text(c.gear) + ", scale " + scale_text(p.scale) +
                  ", members at their initial angles");
  for (const FlatPart& part : parts)
    page.items.push_back(drawn(part, p, thin_pen, tint_of(part.label)));
  const Vector2d d(p.scale * reach + 4e-3, 0), u(0, p.scale * reach + 4e-3);
  page.items.push_back(line_on_page(p.origin - d, p.origin + d, hidden_pen));
  page.items.push_back(line_on_page(p.origin - u, p.origin + u, hidden_pen));
  add_table(page, {10e-3, 62e-3}, 42e-3, radii(c.gear));
  add_table(page, {116e-3, 62e-3}, 60e-3, gaps_and_lengths(c.gear));
  if (p.scale == 1.0) add_scale_check(page, {10e-3, 14e-3});
  return page;
}

Drawings dimensioned_files(const Case& c) {
  Drawings files;
  if (c.gear.modulator) files.sheets.emplace_back("lamination", lamination_page(c));
  files.sheets.emplace_back("section", section_page(c));
  return files;
}

}  // namespace lodegear
