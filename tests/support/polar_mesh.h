// tests/support/polar_mesh.h — annuli meshed by hand: tests of the field need no mesher.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "mesh/member_mesh.h"

namespace lodegear {

/// A ring of circles `radii` (m, rising) cut into `cells` equal cells each of two curved triangles,
/// as one sector. `region_of(ring, cell)` names the region of the cell between circles ring and
/// ring+1; cells are counted from angle `first_angle`. Both ends become boundary circles unless
/// `open_inner`/`open_outer` is false.
inline MemberMesh polar_mesh(Member member, const std::vector<double>& radii, int cells,
                             double first_angle, std::vector<MeshRegion> regions,
                             const std::function<int(int, int)>& region_of, bool open_inner = true,
                             bool open_outer = true) {
  MemberMesh mesh;
  mesh.member = member;
  mesh.regions = std::move(regions);
  const int rings = static_cast<int>(radii.size()) - 1;
  const int around = 2 * cells;
  const auto node = [&](int layer, int i) { return layer * around + i % around; };
  mesh.nodes.resize((2 * rings + 1) * around, 2);
  for (int layer = 0; layer <= 2 * rings; ++layer) {
    const auto below = static_cast<std::size_t>(layer / 2);
    const double r = layer % 2 == 0 ? radii[below] : 0.5 * (radii[below] + radii[below + 1]);
    for (int i = 0; i < around; ++i) {
      const double t = first_angle + std::numbers::pi * i / cells;
      mesh.nodes.row(node(layer, i)) << r * std::cos(t), r * std::sin(t);
    }
  }
  mesh.triangles.resize(2 * rings * cells, 6);
  int row = 0;
  for (int ring = 0; ring < rings; ++ring)
    for (int cell = 0; cell < cells; ++cell) {
      const int l = 2 * ring, i = 2 * cell;
      mesh.triangles.row(row++) << node(l, i), node(l + 2, i), node(l + 2, i + 2), node(l + 1, i),
          node(l + 2, i + 1), node(l + 1, i + 1);
      mesh.triangles.row(row++) << node(l, i), node(l + 2, i + 2), node(l, i + 2),
          node(l + 1, i + 1), node(l + 1, i + 2), node(l, i + 1);
      mesh.region.insert(mesh.region.end(), 2, region_of(ring, cell));
    }
  mesh.n_sectors = 1;
  mesh.nodes_per_sector = static_cast<int>(mesh.nodes.rows());
  mesh.triangles_per_sector = static_cast<int>(mesh.triangles.rows());
  const auto circle = [&](int layer) {
    BoundaryCircle c;
    c.radius = radii[static_cast<std::size_t>(layer / 2)];
    c.first_angle = first_angle;
    for (int i = 0; i < around; ++i) c.nodes.push_back(node(layer, i));
    return c;
  };
  if (open_inner) mesh.inner = circle(0);
  if (open_outer) mesh.outer = circle(2 * rings);
  return mesh;
}

/// n+1 evenly spaced values.
inline std::vector<double> spaced(double from, double to, int n) {
  std::vector<double> values;
  for (int i = 0; i <= n; ++i) values.push_back(from + (to - from) * i / n);
  return values;
}

/// `a` followed by `b`, whose first value repeats the last of a.
inline std::vector<double> joined(std::vector<double> a, const std::vector<double>& b) {
  a.insert(a.end(), b.begin() + 1, b.end());
  return a;
}

}  // namespace lodegear
