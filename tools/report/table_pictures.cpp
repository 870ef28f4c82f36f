// tools/report/table_pictures.cpp — pictures of what the result tables say of every triangle.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/table_pictures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "tools/pictures/field_picture.h"

namespace lodegear {

namespace {

constexpr int size = 560;  // pixels

struct Corner {
  double x = 0.0, y = 0.0;  // mm
};
using Corners = std::array<Corner, 3>;

std::vector<Corners> corners_of(const Table& table) {
  std::vector<Corners> all(table.rows.size());
  for (std::size_t k = 0; k < 3; ++k) {
    const std::string number = std::to_string(k + 1);
    const std::vector<double> x = table.numbers("x" + number + "_mm"),
                              y = table.numbers("y" + number + "_mm");
    if (x.size() != all.size() || y.size() != all.size()) return {};  // of an earlier version
    for (std::size_t i = 0; i < all.size(); ++i) all[i][k] = {x[i], y[i]};
  }
  return all;
}

void paint(const Corners& c, const FieldSample& sample, FieldRaster& raster) {
  const auto [left, right] = std::minmax({c[0].x, c[1].x, c[2].x});
  const auto [low, high] = std::minmax({c[0].y, c[1].y, c[2].y});
  const double det = (c[1].x - c[0].x) * (c[2].y - c[0].y) - (c[1].y - c[0].y) * (c[2].x - c[0].x);
  const auto column = [&](double x) {
    return std::clamp(static_cast<int>((x + raster.half_width) / raster.step()), 0,
                      raster.points - 1);
  };
  constexpr double rim = 1e-6;  // points on a side belong to both triangles
  for (int r = column(-high); r <= column(-low); ++r)
    for (int i = column(left); i <= column(right); ++i) {
      const double x = (i + 0.5) * raster.step() - raster.half_width - c[0].x;
      const double y = raster.half_width - (r + 0.5) * raster.step() - c[0].y;
      const double l1 = (x * (c[2].y - c[0].y) - y * (c[2].x - c[0].x)) / det;
      const double l2 = ((c[1].x - c[0].x) * y - (c[1].y - c[0].y) * x) / det;
      if (l1 >= -rim && l2 >= -rim && l1 + l2 <= 1 + rim) raster.at(i, r) = sample;
    }
}

std::string picture_of(const Table& table, const char* column, PictureStyle style,
                       const std::string& title) {
  const std::vector<Corners> corners = corners_of(table);
  const std::vector<double> values = table.numbers(column);
  const std::vector<std::string> member = table.texts("member"), part = table.texts("part");
  double reach = 0.0;
  for (const Corners& c : corners)
    for (const Corner& at : c) reach = std::max(reach, std::hypot(at.x, at.y));
  if (!(reach > 0.0)) return {};
  FieldRaster raster;
  raster.points = 2 * size;
  raster.half_width = 1.05 * reach;
  raster.samples.resize(static_cast<std::size_t>(raster.points) *
                        static_cast<std::size_t>(raster.points));
  std::map<std::string, int> numbers;  // of the parts, between which a line is drawn
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (!std::isfinite(values[i])) continue;
    FieldSample sample;
    const std::string name = member[i] + " " + (part.empty() ? "magnet" : part[i]);
    sample.part = numbers.try_emplace(name, static_cast<int>(numbers.size()) + 1).first->second;
    sample.value = static_cast<float>(values[i]);
    sample.has_value = true;
    paint(corners[i], sample, raster);
  }
  if (numbers.empty()) return {};
  style = settled_style(raster, style);
  return field_svg(field_picture(raster, style), style, title);
}

}  // namespace

std::string margin_picture(const Table& margin) {
  return picture_of(margin, "margin", {Shown::margin, 1.0, -1.0},
                    "Distance of the magnets from the knee, the worst of use and slip");
}

std::string loss_picture(const Table& loss) {
  return picture_of(loss, "loss_W_per_m3", {Shown::loss, 0.0, -1.0},
                    "Where losses arise, mean over a cycle");
}

}  // namespace lodegear
