// mesh/sector_copies.cpp — numbering the copies of a sector.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/sector_copies.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace lodegear {

using Eigen::Vector2d;
using std::numbers::pi;

namespace {

/// Where a node of the sector's mesh is found in the member.
struct Owner {
  int local = -1;            ///< number in the sector that owns it; −1 = unused
  bool next_sector = false;  ///< on the upper side: a lower-side node of the next sector
  bool axis = false;
};

struct Ownership {
  std::vector<Owner> of;  ///< by node of the sector's mesh
  int nodes_per_sector = 0;
  bool has_axis = false;
};

bool is_axis(const UnitDrawing& unit, const Vector2d& x) {
  return unit.n_sectors > 1 && x.norm() < 1e-9 * unit.limits.outer.radius;
}

/// Upper-side nodes, mid-edge ones included, and their copies on the lower side.
std::map<int, int> lower_of(const UnitDrawing& unit, const CutDrawing& cut,
                            const QuadraticMesh& sector) {
  std::map<int, int> lower = cut.lower_of;
  const auto down = [&](int node) {  // −1: not on the upper side
    const auto at = cut.lower_of.find(node);
    if (at != cut.lower_of.end()) return at->second;
    return is_axis(unit, sector.nodes[static_cast<std::size_t>(node)]) ? node : -1;
  };
  for (const auto& [side, edge] : cut.edge_of_side) {
    const int a = down(side.first), b = down(side.second);
    if (a < 0 || b < 0) continue;
    const auto upper = sector.middle.find(side), under = sector.middle.find(std::minmax({a, b}));
    if (upper != sector.middle.end() && under != sector.middle.end())
      lower[upper->second] = under->second;
  }
  return lower;
}

Ownership ownership(const UnitDrawing& unit, const CutDrawing& cut, const QuadraticMesh& sector) {
  Ownership own;
  own.of.resize(sector.nodes.size());
  const std::map<int, int> lower = lower_of(unit, cut, sector);
  std::vector<bool> used(sector.nodes.size(), false);
  for (const auto& t : sector.triangles)
    for (int n : t) used[static_cast<std::size_t>(n)] = true;
  for (std::size_t n = 0; n < sector.nodes.size(); ++n) {
    if (!used[n] || lower.contains(static_cast<int>(n))) continue;
    if (is_axis(unit, sector.nodes[n])) {
      own.of[n].axis = own.has_axis = true;
      continue;
    }
    own.of[n].local = own.nodes_per_sector++;
  }
  for (const auto& [upper, under] : lower)
    own.of[static_cast<std::size_t>(upper)] = {own.of[static_cast<std::size_t>(under)].local, true,
                                               false};
  return own;
}

int member_node(const UnitDrawing& unit, const Ownership& own, int node, int sector) {
  const Owner& o = own.of[static_cast<std::size_t>(node)];
  if (o.axis) return unit.n_sectors * own.nodes_per_sector;
  return (sector + (o.next_sector ? 1 : 0)) % unit.n_sectors * own.nodes_per_sector + o.local;
}

/// Corner and mid-edge nodes of a circle within the sector, the last corner left out.
std::vector<int> circle_nodes(const std::vector<std::vector<int>>& chains,
                              const QuadraticMesh& sector) {
  std::vector<int> nodes;
  for (const std::vector<int>& chain : chains)
    for (std::size_t i = 1; i < chain.size(); ++i) {
      nodes.push_back(chain[i - 1]);
      nodes.push_back(sector.middle.at(std::minmax(chain[i - 1], chain[i])));
    }
  return nodes;
}

/// Puts the sector's circle nodes on exact, even angles.
void place_evenly(std::vector<Vector2d>& nodes, const std::vector<int>& circle,
                  const UnitDrawing& unit, double radius) {
  for (std::size_t i = 0; i < circle.size(); ++i) {
    const double angle =
        unit.start_angle + unit.angle * static_cast<double>(i) / static_cast<double>(circle.size());
    Vector2d& x = nodes[static_cast<std::size_t>(circle[i])];
    if ((x - polar(radius, angle)).norm() > 1e-8 * radius)
      throw std::runtime_error(std::string("an end circle of the ") + name_of(unit.member) +
                               " is not even");
    x = polar(radius, angle);
  }
}

std::optional<BoundaryCircle> boundary_circle(const UnitDrawing& unit, const Ownership& own,
                                              const std::vector<int>& in_sector, double radius) {
  if (in_sector.empty()) return std::nullopt;
  BoundaryCircle circle{radius, unit.start_angle, {}};
  for (int j = 0; j < unit.n_sectors; ++j)
    for (int node : in_sector) circle.nodes.push_back(member_node(unit, own, node, j));
  return circle;
}

/// Fills regions and the region of each triangle.
void label_triangles(MemberMesh& mesh, const UnitDrawing& unit, const Arrangement& drawing,
                     const QuadraticMesh& sector) {
  for (int j = 0; j < unit.n_sectors; ++j) {
    std::map<int, int> region_of_face;
    for (int face : sector.face) {
      const auto [entry, is_new] = region_of_face.try_emplace(face, 0);
      if (is_new) {
        MeshRegion label = *drawing.faces[static_cast<std::size_t>(face)].label;
        if (label.index >= 0)
          label.index = (label.index + j * unit.bodies_per_sector) % unit.n_bodies;
        auto at = std::find_if(mesh.regions.begin(), mesh.regions.end(),
                               [&label](const MeshRegion& r) { return r == label; });
        entry->second = static_cast<int>(at - mesh.regions.begin());
        if (at == mesh.regions.end()) mesh.regions.push_back(label);
      }
      mesh.region.push_back(entry->second);
    }
  }
}

void copy_nodes(MemberMesh& mesh, const UnitDrawing& unit, const Ownership& own,
                const std::vector<Vector2d>& nodes) {
  mesh.nodes.resize(unit.n_sectors * own.nodes_per_sector + (own.has_axis ? 1 : 0), 2);
  for (int j = 0; j < unit.n_sectors; ++j) {
    const double c = std::cos(2 * pi * j / unit.n_sectors);
    const double s = std::sin(2 * pi * j / unit.n_sectors);
    for (std::size_t n = 0; n < nodes.size(); ++n) {
      if (own.of[n].local < 0 || own.of[n].next_sector) continue;
      const int row = j * own.nodes_per_sector + own.of[n].local;
      mesh.nodes.row(row) << c * nodes[n].x() - s * nodes[n].y(),
          s * nodes[n].x() + c * nodes[n].y();
    }
  }
  if (own.has_axis) mesh.nodes.bottomRows<1>().setZero();
}

}  // namespace

MemberMesh repeated(const UnitDrawing& unit, const Arrangement& drawing, const CutDrawing& cut,
                    const QuadraticMesh& sector) {
  const Ownership own = ownership(unit, cut, sector);
  const double r_in = unit.limits.inner.radius, r_out = unit.limits.outer.radius;
  const auto inner = circle_nodes(chains_on_circle(unit, drawing, cut, r_in), sector);
  const auto outer = circle_nodes(chains_on_circle(unit, drawing, cut, r_out), sector);
  std::vector<Vector2d> nodes = sector.nodes;
  place_evenly(nodes, inner, unit, r_in);
  place_evenly(nodes, outer, unit, r_out);

  MemberMesh mesh;
  mesh.member = unit.member;
  mesh.n_sectors = unit.n_sectors;
  mesh.nodes_per_sector = own.nodes_per_sector;
  mesh.triangles_per_sector = static_cast<int>(sector.triangles.size());
  copy_nodes(mesh, unit, own, nodes);
  mesh.triangles.resize(unit.n_sectors * mesh.triangles_per_sector, 6);
  for (int j = 0; j < unit.n_sectors; ++j)
    for (int t = 0; t < mesh.triangles_per_sector; ++t)
      for (int i = 0; i < 6; ++i)
        mesh.triangles(j * mesh.triangles_per_sector + t, i) = member_node(
            unit, own, sector.triangles[static_cast<std::size_t>(t)][static_cast<std::size_t>(i)],
            j);
  label_triangles(mesh, unit, drawing, sector);
  mesh.inner = boundary_circle(unit, own, inner, r_in);
  mesh.outer = boundary_circle(unit, own, outer, r_out);
  return mesh;
}

}  // namespace lodegear
