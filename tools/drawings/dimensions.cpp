// tools/drawings/dimensions.cpp — extension lines, arrow heads, leaders.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/dimensions.h"

#include <cmath>

#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

constexpr double head = 2.2e-3, type = 3e-3, gap = 0.8e-3;

double direction_of(const Vector2d& d) { return std::atan2(d.y(), d.x()); }

/// Words read from below or from the right.
double readable(double angle) {
  if (angle > std::numbers::pi / 2 + 1e-9) return angle - std::numbers::pi;
  if (angle <= -std::numbers::pi / 2 + 1e-9) return angle + std::numbers::pi;
  return angle;
}

}  // namespace

void add_dimension(Page& page, const Vector2d& from, const Vector2d& to, double aside,
                   const std::string& text) {
  const double direction = direction_of(to - from);
  const Vector2d left = polar(1.0, direction + std::numbers::pi / 2);
  const Vector2d a = from + aside * left, b = to + aside * left;
  const double beyond = std::copysign(1.2e-3, aside), off = std::copysign(gap, aside);
  page.items.push_back(line_on_page(from + off * left, a + beyond * left));
  page.items.push_back(line_on_page(to + off * left, b + beyond * left));
  page.items.push_back(line_on_page(a, b));
  page.items.push_back(arrow_head(a, direction + std::numbers::pi, head));
  page.items.push_back(arrow_head(b, direction, head));
  const double angle = readable(direction);
  const Vector2d above = polar(gap, angle + std::numbers::pi / 2);
  page.items.push_back(PageText{(a + b) / 2 + above, text, type, Anchor::middle, angle, false});
}

void add_diameters(Page& page, const Vector2d& centre, double scale, double inner, double outer) {
  const Vector2d foot = centre - Vector2d(0, scale * outer);
  const auto diameter = [&](double radius, double below) {
    const Vector2d side(scale * radius, 0);
    add_dimension(page, foot - side, foot + side, -below,
                  "⌀ " + rounded_text(to_mm(2 * radius), 3));
  };
  if (inner > 0.0) diameter(inner, 9e-3);
  diameter(outer, 17e-3);
}

void add_leader(Page& page, const Vector2d& at, const Vector2d& words, const std::string& text,
                bool to_left) {
  const double side = to_left ? -1.0 : 1.0;
  page.items.push_back(line_on_page(at, words));
  page.items.push_back(line_on_page(words, words + Vector2d(side * 3e-3, 0)));
  page.items.push_back(arrow_head(at, direction_of(at - words), head));
  page.items.push_back(PageText{words + Vector2d(side * 4e-3, -0.35 * type), text, type,
                                to_left ? Anchor::end : Anchor::start, 0.0, false});
}

}  // namespace lodegear
