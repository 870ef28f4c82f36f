// tests/mesh/mesh_checks.cpp — properties of meshes.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_checks.h"
#include "materials/constants.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <set>

#include "mesh/quadratic_mesh.h"

namespace lodegear {

using Eigen::Vector2d;

static std::array<Vector2d, 6> nodes_of(const MemberMesh& mesh, int t) {
  std::array<Vector2d, 6> x;
  for (int i = 0; i < 6; ++i)
    x[static_cast<std::size_t>(i)] = mesh.nodes.row(mesh.triangles(t, i)).transpose();
  return x;
}

double triangle_area(const MemberMesh& mesh, int t) {
  double area = 0.0;
  for (double b : jacobian_bounds(nodes_of(mesh, t))) area += b / 12;
  return area;
}

std::map<std::string, double> part_areas(const MemberMesh& mesh) {
  std::map<std::string, double> areas;
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    areas[mesh.regions[static_cast<std::size_t>(mesh.region[static_cast<std::size_t>(t)])].part] +=
        triangle_area(mesh, t);
  return areas;
}

std::map<std::pair<int, int>, std::vector<int>> triangles_at_edges(const MemberMesh& mesh) {
  std::map<std::pair<int, int>, std::vector<int>> at;
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    for (int e = 0; e < 3; ++e)
      at[std::minmax({mesh.triangles(t, e), mesh.triangles(t, (e + 1) % 3)})].push_back(t);
  return at;
}

double symmetry_error(const MemberMesh& mesh) {
  double worst = 0.0;
  const double extent = mesh.nodes.rowwise().norm().maxCoeff();
  for (int j = 1; j < mesh.n_sectors; ++j)
    for (int i = 0; i < mesh.nodes_per_sector; ++i) {
      const Vector2d x = mesh.nodes.row(i).transpose();
      const Vector2d y = mesh.nodes.row(j * mesh.nodes_per_sector + i).transpose();
      worst = std::max(worst, (turned(x, 2 * pi * j / mesh.n_sectors) - y).norm() / extent);
    }
  return worst;
}

double circle_error(const MemberMesh& mesh, const BoundaryCircle& circle) {
  double worst = 0.0;
  for (std::size_t i = 0; i < circle.nodes.size(); ++i) {
    const double angle = circle.first_angle + static_cast<double>(i) * pi / circle.n_edges();
    const Vector2d x = mesh.nodes.row(circle.nodes[i]).transpose();
    worst = std::max(worst, (x - polar(circle.radius, angle)).norm() / circle.radius);
  }
  return worst;
}

static int n_bad_triangles(const MemberMesh& mesh) {
  int bad = 0;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    const auto bounds = jacobian_bounds(nodes_of(mesh, t));
    bad += *std::min_element(bounds.begin(), bounds.end()) <= 0.0;
  }
  return bad;
}

/// Edges with one triangle that lie on no boundary circle, and edges with more than two.
static std::pair<int, int> n_loose_edges(const MemberMesh& mesh) {
  std::set<std::pair<int, int>> on_circle;
  for (const auto* circle : {&mesh.inner, &mesh.outer}) {
    if (!*circle) continue;
    const std::vector<int>& nodes = (*circle)->nodes;
    for (std::size_t i = 0; i < nodes.size(); i += 2)
      on_circle.insert(std::minmax({nodes[i], nodes[(i + 2) % nodes.size()]}));
  }
  int open = 0, crowded = 0;
  for (const auto& [edge, triangles] : triangles_at_edges(mesh)) {
    open += triangles.size() == 1 && !on_circle.contains(edge);
    crowded += triangles.size() > 2 || (triangles.size() == 2 && on_circle.contains(edge));
    on_circle.erase(edge);
  }
  crowded += static_cast<int>(on_circle.size());  // an edge of a circle that is no triangle's
  return {open, crowded};
}

static int n_edges_with_two_middles(const MemberMesh& mesh) {
  std::map<std::pair<int, int>, int> middle;
  int bad = 0;
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    for (int e = 0; e < 3; ++e) {
      const int m = mesh.triangles(t, 3 + e);
      const auto [at, is_new] = middle.try_emplace(
          std::minmax({mesh.triangles(t, e), mesh.triangles(t, (e + 1) % 3)}), m);
      bad += !is_new && at->second != m;
    }
  return bad;
}

/// Triangles of sector j that are not those of sector 0 with every node one sector on.
static int n_uneven_triangles(const MemberMesh& mesh) {
  const int N = mesh.n_sectors * mesh.nodes_per_sector, T = mesh.triangles_per_sector;
  int bad = 0;
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    for (int i = 0; i < 6; ++i) {
      const int first = mesh.triangles(t % T, i), here = mesh.triangles(t, i);
      const int moved = first == N ? N : (first + t / T * mesh.nodes_per_sector) % N;
      bad += here != moved;
    }
  return bad;
}

void check_member_mesh(const MemberMesh& mesh, bool open_edges_allowed) {
  CHECK(mesh.triangles.rows() == mesh.n_sectors * mesh.triangles_per_sector);
  CHECK(mesh.region.size() == static_cast<std::size_t>(mesh.triangles.rows()));
  CHECK(n_bad_triangles(mesh) == 0);
  CHECK(mesh.quality.smallest_jacobian_ratio > 0.0);
  CHECK(mesh.quality.smallest_angle > 0.0);
  const auto [open, crowded] = n_loose_edges(mesh);
  if (!open_edges_allowed) CHECK(open == 0);
  CHECK(crowded == 0);
  CHECK(n_edges_with_two_middles(mesh) == 0);
  CHECK(n_uneven_triangles(mesh) == 0);
  const std::set<int> used(mesh.triangles.data(), mesh.triangles.data() + mesh.triangles.size());
  CHECK(static_cast<Eigen::Index>(used.size()) == mesh.nodes.rows());
  CHECK(*used.rbegin() == mesh.nodes.rows() - 1);
  CHECK(symmetry_error(mesh) < 1e-15);  // a rotation is two products and a sum
  // Angles up to 2π are known to half of 9e-16 in each of start, step and sum; then the rotation.
  if (mesh.inner) CHECK(circle_error(mesh, *mesh.inner) < 3e-15);
  if (mesh.outer) CHECK(circle_error(mesh, *mesh.outer) < 3e-15);
}

}  // namespace lodegear
