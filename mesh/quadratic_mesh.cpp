// mesh/quadratic_mesh.cpp — mid-edge nodes, Jacobians, quality.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/quadratic_mesh.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lodegear {

using Eigen::Vector2d;

/// Jacobian at barycentric coordinates l of the map with the six nodes x.
static double jacobian(const std::array<Vector2d, 6>& x, const std::array<double, 3>& l) {
  // Shape functions l_i(2 l_i − 1) and 4 l_i l_j; derivatives with respect to l_1, l_2 (l_0 =
  // rest).
  const auto by = [&](std::size_t i) -> Vector2d {
    Vector2d d = (4 * l[i] - 1) * x[i];
    for (std::size_t e = 0; e < 3; ++e) {
      const std::size_t a = e, b = (e + 1) % 3;
      if (a == i) d += 4 * l[b] * x[3 + e];
      if (b == i) d += 4 * l[a] * x[3 + e];
    }
    return d;
  };
  return cross(by(1) - by(0), by(2) - by(0));
}

std::array<double, 6> jacobian_bounds(const std::array<Vector2d, 6>& x) {
  std::array<double, 6> b{};
  for (std::size_t i = 0; i < 3; ++i) {
    std::array<double, 3> l{};
    l[i] = 1.0;
    b[i] = jacobian(x, l);
  }
  for (std::size_t e = 0; e < 3; ++e) {
    std::array<double, 3> l{};
    l[e] = l[(e + 1) % 3] = 0.5;
    b[3 + e] = 2 * jacobian(x, l) - (b[e] + b[(e + 1) % 3]) / 2;
  }
  return b;
}

static std::array<Vector2d, 6> nodes_of(const QuadraticMesh& mesh, std::size_t t) {
  std::array<Vector2d, 6> x;
  for (std::size_t i = 0; i < 6; ++i)
    x[i] = mesh.nodes[static_cast<std::size_t>(mesh.triangles[t][i])];
  return x;
}

/// Least of the Jacobian's bounds over the largest.
static double jacobian_ratio(const std::array<Vector2d, 6>& x) {
  const std::array<double, 6> b = jacobian_bounds(x);
  const auto [low, high] = std::minmax_element(b.begin(), b.end());
  return *low / std::abs(*high);
}

static int middle_node(QuadraticMesh& mesh, const Arrangement& drawing, const CutDrawing& cut,
                       int a, int b) {
  const auto [entry, is_new] =
      mesh.middle.try_emplace(std::minmax(a, b), static_cast<int>(mesh.nodes.size()));
  if (!is_new) return entry->second;
  const auto n_cut = static_cast<int>(cut.nodes.size());
  const Vector2d& x = mesh.nodes[static_cast<std::size_t>(a)];
  const Vector2d& y = mesh.nodes[static_cast<std::size_t>(b)];
  const Vector2d middle =
      a < n_cut && b < n_cut ? middle_on_curve(drawing, cut, a, b) : Vector2d((x + y) / 2);
  mesh.nodes.push_back(middle);
  return entry->second;
}

/// Straightens the curved sides of folded triangles.
static void unfold(QuadraticMesh& mesh, const std::array<double, 2>& keep) {
  // A bulge may take this part of a triangle's height before it costs more accuracy than the
  // straight side does.
  constexpr double least_ratio = 0.1;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (jacobian_ratio(nodes_of(mesh, t)) > least_ratio) continue;
    for (std::size_t e = 0; e < 3; ++e) {
      const std::array<int, 6>& nodes = mesh.triangles[t];
      const Vector2d& a = mesh.nodes[static_cast<std::size_t>(nodes[e])];
      const Vector2d& b = mesh.nodes[static_cast<std::size_t>(nodes[(e + 1) % 3])];
      Vector2d& middle = mesh.nodes[static_cast<std::size_t>(nodes[3 + e])];
      const bool kept = std::any_of(keep.begin(), keep.end(), [&](double r) {
        return std::abs(a.norm() - r) < 1e-9 * r && std::abs(b.norm() - r) < 1e-9 * r;
      });
      if (!kept) middle = (a + b) / 2;
    }
  }
}

QuadraticMesh quadratic_mesh(const Arrangement& drawing, const CutDrawing& cut,
                             const Triangulation& triangles, const std::vector<int>& face_of,
                             const std::array<double, 2>& keep) {
  QuadraticMesh mesh;
  mesh.nodes = triangles.points;
  for (std::size_t t = 0; t < triangles.triangles.size(); ++t) {
    const auto& [a, b, c] = triangles.triangles[t];
    const int ab = middle_node(mesh, drawing, cut, a, b);
    const int bc = middle_node(mesh, drawing, cut, b, c);
    const int ca = middle_node(mesh, drawing, cut, c, a);
    mesh.triangles.push_back({a, b, c, ab, bc, ca});
    mesh.face.push_back(face_of[static_cast<std::size_t>(triangles.face[t])]);
  }
  unfold(mesh, keep);
  return mesh;
}

static double smallest_angle(const Vector2d& a, const Vector2d& b, const Vector2d& c) {
  const auto at = [](const Vector2d& p, const Vector2d& q, const Vector2d& r) {
    return std::atan2(cross(q - p, r - p), (q - p).dot(r - p));
  };
  return std::min({at(a, b, c), at(b, c, a), at(c, a, b)});
}

MeshQuality quality(const QuadraticMesh& mesh) {
  MeshQuality q{std::numbers::pi, 1.0, 0.0};
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const std::array<Vector2d, 6> x = nodes_of(mesh, t);
    q.smallest_angle = std::min(q.smallest_angle, smallest_angle(x[0], x[1], x[2]));
    q.smallest_jacobian_ratio = std::min(q.smallest_jacobian_ratio, jacobian_ratio(x));
    for (double b : jacobian_bounds(x)) q.area += b / 12;  // ∫ of each Bernstein polynomial: 1/12
  }
  return q;
}

}  // namespace lodegear
