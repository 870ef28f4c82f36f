// tools/drawings/placement_chart.cpp — arrows, hatching, numbers; cutting into tiles.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/placement_chart.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"
#include "mesh/crossings.h"
#include "mesh/member_limits.h"
#include "tools/drawings/placement.h"
#include "tools/drawings/section_parts.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

constexpr double label_room = 9e-3;  // around the rotor, for numbers
constexpr double overlap = 10e-3;    // of neighbouring tiles
constexpr double type = 2.6e-3;
// Of the paper: room for the heading above and the scale check below.
const Extent window{{10e-3, 30e-3}, {200e-3, 268e-3}};

/// Length of the part along `direction` through `x`, both ways.
struct Chord {
  double ahead = 0.0, behind = 0.0;
};
Chord chord(const Loop& loop, const Vector2d& x, double direction, double reach) {
  Chord found{reach, reach};
  const Vector2d d = polar(reach, direction);
  for (const bool ahead : {true, false}) {
    double& least = ahead ? found.ahead : found.behind;
    for (const Curve& c : loop)
      for (const Vector2d& hit :
           crossings(line(x, ahead ? Vector2d(x + d) : Vector2d(x - d)), c, 1e-9))
        least = std::min(least, (hit - x).norm());
  }
  return found;
}

/// Lines across the magnet in its northern half.
void hatch(std::vector<PageItem>& items, const Loop& loop, const Vector2d& centre, double direction,
           double ahead) {
  const double reach = 0.2, step = 0.6e-3;
  const Vector2d along = polar(1.0, direction), across = polar(reach, direction + pi / 2);
  for (double s = ahead - step / 2; s > 0.1 * ahead; s -= step) {
    const Vector2d x = centre + s * along;
    std::vector<double> at;
    for (const Curve& c : loop)
      for (const Vector2d& hit : crossings(line(x - across, x + across), c, 1e-9))
        at.push_back(across.normalized().dot(hit - x));
    std::sort(at.begin(), at.end());
    at.erase(std::unique(at.begin(), at.end(),
                         [](double a, double b) { return std::abs(a - b) < 1e-7; }),
             at.end());
    for (std::size_t i = 0; i + 1 < at.size(); i += 2)
      items.push_back(
          line_on_page(x + at[i] * across.normalized(), x + at[i + 1] * across.normalized()));
  }
}

Vector2d middle_of(const Loop& loop) {
  Vector2d sum = Vector2d::Zero();
  int n = 0;
  for (const Curve& c : loop)
    for (const double t : {0.0, 0.25, 0.5, 0.75}) {
      sum += point_at(c, t);
      ++n;
    }
  return sum / n;
}

PageText label(const Vector2d& at, const std::string& text, double height, bool bold) {
  return {at - Vector2d(0, 0.36 * height), text, height, Anchor::middle, 0.0, bold};
}

/// The letter beside the arrow, on a spot free of hatching.
void add_north(std::vector<PageItem>& items, const Loop& loop, const Vector2d& at,
               double direction) {
  const double room = chord(loop, at, direction + pi / 2, 0.2).ahead;
  const double height = std::min(2.2e-3, 0.8 * room);
  const Vector2d x = at + 0.55 * room * polar(1.0, direction + pi / 2);
  items.push_back(PageShape{{circle(x, 0.6 * height)}, no_pen, Tint{}, false});
  items.push_back(label(x, "N", height, true));
}

void add_magnet(std::vector<PageItem>& items, const PlacedMagnet& magnet, const Loop& loop) {
  items.push_back(PageShape{{loop}, outline_pen, magnet_tint, false});
  const Vector2d centre = middle_of(loop);
  if (magnet.strength == 0.0) {
    items.push_back(
        PageText{centre - Vector2d(0, type / 3), "none", type, Anchor::middle, 0, false});
    return;
  }
  const double direction = magnet.angle + magnet.direction;
  const Chord room = chord(loop, centre, direction, 0.2);
  hatch(items, loop, centre, direction, room.ahead);
  const Vector2d tip = centre + 0.8 * room.ahead * polar(1.0, direction);
  const Vector2d tail = centre - 0.8 * room.behind * polar(1.0, direction);
  items.push_back(line_on_page(tail, tip, outline_pen));
  items.push_back(arrow_head(tip, direction, std::min(2.4e-3, 0.7 * (tip - tail).norm())));
  add_north(items, loop, centre + 0.5 * room.ahead * polar(1.0, direction), direction);
}

/// The number outside the rotor, the turn inside it, small where places are narrow.
void add_labels(std::vector<PageItem>& items, const PlacedMagnet& magnet, double inner,
                double outer, std::size_t n) {
  const double number = std::min(type, 0.8 * 2 * pi * (outer + 4e-3) / static_cast<double>(n) / 2);
  const double turn = std::min(0.8 * type, 0.9 * 2 * pi * inner / static_cast<double>(n) / 3);
  items.push_back(
      label(polar(outer + 4e-3, magnet.angle), std::to_string(magnet.number()), number, true));
  if (magnet.order > 0 && inner > 4e-3)
    items.push_back(label(polar(inner - 3.2e-3, magnet.angle),
                          "(" + std::to_string(magnet.order) + ")", turn, false));
}

/// The rotor about the origin.
std::vector<PageItem> picture(const Gear& gear, Member member, double& reach) {
  const MagnetRotor& rotor = rotor_of(gear, member);
  const std::vector<PlacedMagnet> magnets = placement(rotor, member);
  const RadialExtent body = body_extent(rotor);
  std::vector<PageItem> items, above;
  reach = body.outer;
  for (const FlatPart& part : section_parts(gear, member)) {
    if (part.label.part == "sleeve") continue;
    reach = std::max(reach, extent(part.outline).high.x());
    if (part.label.part == "magnet")
      add_magnet(above, magnets[static_cast<std::size_t>(part.label.index)], part.outline);
    else
      items.push_back(drawn(part, {}, thin_pen, std::nullopt));
  }
  items.insert(items.end(), above.begin(), above.end());
  for (const PlacedMagnet& magnet : magnets)
    add_labels(items, magnet, body.inner, reach, magnets.size());
  items.push_back(line_on_page({-4e-3, 0}, {4e-3, 0}));
  items.push_back(line_on_page({0, -4e-3}, {0, 4e-3}));
  items.push_back(line_on_page({reach + 6.5e-3, 0}, {reach + label_room, 0}));
  return items;
}

PageItem moved(PageItem item, const Vector2d& by) {
  if (auto* shape = std::get_if<PageShape>(&item))
    for (Loop& loop : shape->loops) loop = lodegear::moved(loop, by);
  else
    std::get<PageText>(item).at += by;
  return item;
}

/// Tiles along one side: how many, and where the drawing's middle lies on tile i.
struct Tiling {
  int n = 1;
  double size = 0.0;
  double middle(int i) const { return size / 2 + (0.5 * (n - 1) - i) * (size - overlap); }
};
Tiling tiling(double wanted, double size) {
  if (wanted <= size) return {1, size};
  return {static_cast<int>(std::ceil((wanted - overlap) / (size - overlap))), size};
}

}  // namespace

std::vector<Page> placement_chart(const Gear& gear, Member member, const std::string& case_name) {
  double reach = 0.0;
  const std::vector<PageItem> items = picture(gear, member, reach);
  const double wanted = 2 * (reach + label_room);
  const Tiling across = tiling(wanted, window.size().x()), down = tiling(wanted, window.size().y());
  std::vector<Page> pages;
  for (int row = 0; row < down.n; ++row)
    for (int column = 0; column < across.n; ++column) {
      Page page;
      std::string below =
          "1:1, seen with the axis towards the eye. Bold: number. (Turn) in the "
          "order of assembly. N, arrow, hatching: north.";
      if (across.n * down.n > 1)
        below = "1:1, tile " + std::to_string(row + 1) + "/" + std::to_string(down.n) +
                " from above, " + std::to_string(column + 1) + "/" + std::to_string(across.n) +
                " from the left; neighbours overlap by 10 mm. Bold: number. (Turn). N, arrow, "
                "hatching: north.";
      add_heading(page, case_name + ": magnets of the " + name_of(member), below);
      std::get<PageText>(page.items.back()).height = 2.6e-3;
      page.window = window;
      // Rows count from above, the paper's y upwards.
      const Vector2d origin =
          window.low + Vector2d(across.middle(column), window.size().y() - down.middle(row));
      for (const PageItem& item : items) page.clipped.push_back(moved(item, origin));
      if (across.n * down.n > 1)
        page.items.push_back(PageShape{
            {rectangle((window.low + window.high) / 2, window.size().x(), window.size().y(), 0)},
            hidden_pen,
            std::nullopt,
            false});
      add_scale_check(page, {10e-3, 14e-3});
      pages.push_back(std::move(page));
    }
  return pages;
}

Drawings placement_files(const Gear& gear, const std::string& case_name) {
  Drawings files;
  for (const Member member : members_present(gear)) {
    if (member == Member::modulator) continue;
    const std::vector<Page> pages = placement_chart(gear, member, case_name);
    const std::string stem = std::string("placement_") + name_of(member);
    for (std::size_t i = 0; i < pages.size(); ++i)
      files.sheets.emplace_back(stem + (pages.size() > 1 ? "_" + std::to_string(i + 1) + "_of_" +
                                                               std::to_string(pages.size())
                                                         : std::string()),
                                pages[i]);
  }
  if (files.sheets.empty()) return files;
  files.files.emplace_back("placement.csv", placement_csv(gear));
  files.files.emplace_back("placement.txt", placement_text(gear, case_name));
  return files;
}

}  // namespace lodegear
