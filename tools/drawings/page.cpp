// tools/drawings/page.cpp — putting parts and words on paper.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/page.h"

#include <algorithm>
#include <sstream>

#include "cases/text_table.h"

namespace lodegear {

using Eigen::Vector2d;

// Of A4; and the mean width of a letter of sans-serif type over its height.
static constexpr double page_width = 0.210, margin = 10e-3, letter = 0.62;

double fitting_height(const std::string& text, double height, double width) {
  return std::min(height, width / (letter * std::max(1, width_of(text))));
}

Loop Placing::of(Loop loop) const {
  for (Curve& c : loop) {
    c.from = of(c.from);
    c.to = of(c.to);
    c.centre = of(c.centre);
    c.radius *= scale;
  }
  return loop;
}

PageShape drawn(const FlatPart& part, const Placing& placing, Pen pen, std::optional<Tint> fill) {
  PageShape shape{{placing.of(part.outline)}, pen, fill, false};
  for (const Loop& hole : part.holes) shape.loops.push_back(placing.of(hole));
  return shape;
}

PageShape line_on_page(const Vector2d& from, const Vector2d& to, Pen pen) {
  return {{{line(from, to)}}, pen, std::nullopt, true};
}

PageShape arrow_head(const Vector2d& tip, double direction, double length) {
  const Vector2d back = tip - polar(length, direction);
  const Vector2d aside = polar(0.3 * length, direction + std::numbers::pi / 2);
  return {{polygon({tip, back + aside, back - aside})}, no_pen, black_tint, false};
}

void add_lines(std::vector<PageItem>& items, Vector2d at, double height,
               const std::vector<std::string>& lines) {
  const int most = static_cast<int>((page_width - margin - at.x()) / (letter * height));
  for (const std::string& text : lines) {
    std::istringstream broken(wrapped(text, "", most));
    for (std::string line; std::getline(broken, line); at.y() -= 1.5 * height)
      items.push_back(PageText{at, line, height, Anchor::start, 0.0, false});
  }
}

void add_heading(Page& page, const std::string& title, const std::string& below) {
  const Vector2d top(10e-3, page.height - 14e-3);
  const double room = page.width - margin - top.x(), bolder = 1.15;
  page.items.push_back(
      PageText{top, title, fitting_height(title, 5e-3, room / bolder), Anchor::start, 0.0, true});
  page.items.push_back(PageText{top - Vector2d(0, 6e-3), below, 3e-3, Anchor::start, 0.0, false});
}

void add_scale_check(Page& page, const Vector2d& at) {
  const Vector2d end = at + Vector2d(100e-3, 0), tick(0, 1.5e-3);
  page.items.push_back(line_on_page(at, end, outline_pen));
  for (int i = 0; i <= 10; ++i) {
    const Vector2d x = at + Vector2d(10e-3 * i, 0);
    page.items.push_back(line_on_page(x - tick, i % 5 == 0 ? Vector2d(x + tick) : x, thin_pen));
  }
  page.items.push_back(PageText{at + Vector2d(0, 3e-3),
                                "Scale check: this line is 100 mm. If not, print at 100 %, not "
                                "“fitted to the page”.",
                                2.5e-3, Anchor::start, 0.0, false});
}

std::optional<Tint> tint_of(const MeshRegion& label) {
  switch (label.kind) {
    case RegionKind::steel:
      return steel_tint;
    case RegionKind::magnet:
      return magnet_tint;
    case RegionKind::sleeve:
      return sleeve_tint;
    case RegionKind::air:
      return std::nullopt;
  }
  return std::nullopt;
}

}  // namespace lodegear
