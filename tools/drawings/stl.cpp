// tools/drawings/stl.cpp — faces raised to their heights, with walls between them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/stl.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

#include "cases/units.h"
#include "mesh/arrangement.h"
#include "mesh/gmsh_session.h"

namespace lodegear {

using Eigen::Vector2d;
using Eigen::Vector3d;

namespace {

/// Each edge of the drawing as a chain of points, both of its faces seeing the same ones.
struct Chains {
  std::vector<Vector2d> points;
  std::vector<std::vector<int>> along;  // by edge, from its start to its end
};
Chains chains_of(const Arrangement& drawing, double chord_error) {
  Chains chains{drawing.points, {}};
  for (const ArrangementEdge& edge : drawing.edges) {
    const Curve& c = edge.curve;
    std::vector<int> along = {edge.from};
    if (c.is_arc()) {
      const double step = 2 * std::acos(1 - std::min(0.5, chord_error / c.radius));
      const int n = std::max(1, static_cast<int>(std::ceil(std::abs(c.sweep) / step)));
      for (int i = 1; i < n; ++i) {
        along.push_back(static_cast<int>(chains.points.size()));
        chains.points.push_back(point_at(c, static_cast<double>(i) / n));
      }
    }
    along.push_back(edge.to);
    chains.along.push_back(std::move(along));
  }
  return chains;
}

class Raised {
 public:
  Raised(const Carrier& carrier, double chord_error)
      : carrier_(carrier),
        drawing_(arrangement(carrier.domain, carrier.outlines)),
        chains_(chains_of(drawing_, chord_error)) {
    for (std::size_t f = 0; f < drawing_.faces.size(); ++f)
      levels_.push_back(height(static_cast<int>(f)));
    levels_.push_back(0.0);
    std::sort(levels_.begin(), levels_.end());
    levels_.erase(std::unique(levels_.begin(), levels_.end()), levels_.end());
  }

  Solid solid() {
    add_caps();
    for (std::size_t e = 0; e < drawing_.edges.size(); ++e) add_walls(e);
    return std::move(result_);
  }

 private:
  double height(int face) const {
    if (face < 0) return 0.0;
    const auto& label = drawing_.faces[static_cast<std::size_t>(face)].label;
    if (!label || label->kind == RegionKind::air) return 0.0;
    return label->part == "carrier" ? carrier_.plate + carrier_.stack : carrier_.plate;
  }

  std::vector<int> polygon_of(const std::vector<DirectedEdge>& loop) const {
    std::vector<int> polygon;
    for (const DirectedEdge& d : loop) {
      std::vector<int> along = chains_.along[static_cast<std::size_t>(d.edge)];
      if (!d.forward) std::reverse(along.begin(), along.end());
      polygon.insert(polygon.end(), along.begin(), along.end() - 1);
    }
    return polygon;
  }

  void add_caps() {
    PolygonFaces polygons{chains_.points, {}};
    std::vector<double> heights;
    for (std::size_t f = 0; f < drawing_.faces.size(); ++f) {
      if (height(static_cast<int>(f)) <= 0.0) continue;
      heights.push_back(height(static_cast<int>(f)));
      polygons.faces.emplace_back();
      for (const auto& loop : drawing_.faces[f].loops)
        polygons.faces.back().push_back(polygon_of(loop));
    }
    if (heights.empty()) return;
    const Triangulation flat = triangulation(
        polygons, [](const Vector2d&) { return 0.02; }, "solid");
    const auto at = [&](int point, double z) {
      const Vector2d& x = flat.points[static_cast<std::size_t>(point)];
      return Vector3d(x.x(), x.y(), z);
    };
    for (std::size_t t = 0; t < flat.triangles.size(); ++t) {
      const auto& [a, b, c] = flat.triangles[t];
      const double top = heights[static_cast<std::size_t>(flat.face[t])];
      result_.triangles.push_back({at(a, top), at(b, top), at(c, top)});
      result_.triangles.push_back({at(a, 0.0), at(c, 0.0), at(b, 0.0)});
    }
  }

  /// Between the heights of both sides, cut at every level, so that walls meet in whole edges.
  void add_walls(std::size_t e) {
    const double left = height(drawing_.edges[e].left), right = height(drawing_.edges[e].right);
    std::vector<int> along = chains_.along[e];
    if (left < right) std::reverse(along.begin(), along.end());
    const double low = std::min(left, right), high = std::max(left, right);
    for (std::size_t k = 0; k + 1 < levels_.size(); ++k) {
      if (levels_[k] < low || levels_[k + 1] > high) continue;
      for (std::size_t i = 0; i + 1 < along.size(); ++i)
        add_wall(chains_.points[static_cast<std::size_t>(along[i])],
                 chains_.points[static_cast<std::size_t>(along[i + 1])], levels_[k],
                 levels_[k + 1]);
    }
  }

  /// Material on the left of the way from a to b.
  void add_wall(const Vector2d& a, const Vector2d& b, double low, double high) {
    const Vector3d a0(a.x(), a.y(), low), b0(b.x(), b.y(), low);
    const Vector3d a1(a.x(), a.y(), high), b1(b.x(), b.y(), high);
    result_.triangles.push_back({a0, b0, b1});
    result_.triangles.push_back({a0, b1, a1});
  }

  const Carrier& carrier_;
  Arrangement drawing_;
  Chains chains_;
  std::vector<double> levels_;
  Solid result_;
};

/// Little-endian, whatever the machine.
void put(std::string& bytes, std::uint32_t word, int n_bytes = 4) {
  for (int i = 0; i < n_bytes; ++i) bytes += static_cast<char>(word >> (8 * i) & 0xff);
}
void put(std::string& bytes, const Vector3d& x) {
  for (int i = 0; i < 3; ++i) put(bytes, std::bit_cast<std::uint32_t>(static_cast<float>(x[i])));
}

}  // namespace

Solid solid(const Carrier& carrier, double chord_error) {
  return Raised(carrier, chord_error).solid();
}

double volume(const Solid& solid) {
  double sum = 0.0;
  for (const auto& [a, b, c] : solid.triangles) sum += a.dot(b.cross(c)) / 6;
  return sum;
}

std::string stl_bytes(const Carrier& carrier, const std::string& words) {
  const Solid raised = solid(carrier);
  // A file that begins with 'solid' is taken for the text form by some readers.
  std::string bytes = "mm: " + words;
  bytes.resize(80, ' ');
  put(bytes, static_cast<std::uint32_t>(raised.triangles.size()));
  const auto rounded = [](const Vector3d& x) {
    return Vector3d((x * to_mm(1.0)).cast<float>().cast<double>());
  };
  for (const auto& corners : raised.triangles) {
    const Vector3d a = rounded(corners[0]), b = rounded(corners[1]), c = rounded(corners[2]);
    put(bytes, (b - a).cross(c - a).normalized());  // of what is written, also where it is narrow
    for (const Vector3d& x : {a, b, c}) put(bytes, x);
    put(bytes, 0, 2);
  }
  return bytes;
}

}  // namespace lodegear
