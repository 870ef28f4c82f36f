// solver/post/stress.cpp — forces and torques from Maxwell's stress in the meshed air.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/stress.h"

#include "materials/constants.h"
#include "solver/fem/element_table.h"

namespace lodegear {

namespace {

// x × y, the z component.
double cross(const Eigen::Vector2d& x, const Eigen::Vector2d& y) {
  return x[0] * y[1] - x[1] * y[0];
}

Eigen::Vector2d flux_at(const ElementPoint& p, const MemberMesh& mesh, const Eigen::VectorXd& a,
                        int t) {
  Eigen::Vector2d b = Eigen::Vector2d::Zero();
  for (int i = 0; i < 6; ++i) b += a[mesh.triangles(t, i)] * Eigen::Vector2d(p.bx[i], p.by[i]);
  return b;
}

ElementPoint weighted_point(const MemberMesh& mesh, int t, const TrianglePoint& q) {
  ElementPoint p = element_point(mesh, t, q.xi, q.eta);
  p.weight *= q.weight;
  return p;
}

std::vector<bool> nodes_of(const MemberMesh& mesh, const std::vector<bool>& triangles) {
  std::vector<bool> nodes(static_cast<std::size_t>(mesh.nodes.rows()), false);
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    if (triangles[static_cast<std::size_t>(t)])
      for (int i = 0; i < 6; ++i) nodes[static_cast<std::size_t>(mesh.triangles(t, i))] = true;
  return nodes;
}

bool has_node(const MemberMesh& mesh, int t, const std::vector<bool>& nodes) {
  for (int i = 0; i < 6; ++i)
    if (nodes[static_cast<std::size_t>(mesh.triangles(t, i))]) return true;
  return false;
}

}  // namespace

std::vector<bool> with_air_around(const MemberMesh& mesh, std::vector<bool> in_body, int layers) {
  std::vector<bool> at_end(static_cast<std::size_t>(mesh.nodes.rows()), false);
  for (const auto* circle : {&mesh.inner, &mesh.outer})
    if (*circle)
      for (int node : (*circle)->nodes) at_end[static_cast<std::size_t>(node)] = true;
  for (int layer = 0; layer < layers; ++layer) {
    const std::vector<bool> node_in_body = nodes_of(mesh, in_body);
    for (int t = 0; t < mesh.triangles.rows(); ++t) {
      const auto region = static_cast<std::size_t>(mesh.region[static_cast<std::size_t>(t)]);
      if (mesh.regions[region].kind != RegionKind::air) continue;
      if (has_node(mesh, t, node_in_body) && !has_node(mesh, t, at_end))
        in_body[static_cast<std::size_t>(t)] = true;
    }
  }
  return in_body;
}

BodyLoad body_load(const MemberMesh& mesh, const Eigen::VectorXd& a,
                   const std::vector<bool>& in_body) {
  const std::vector<bool> node_in_body = nodes_of(mesh, in_body);
  BodyLoad load;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    if (in_body[static_cast<std::size_t>(t)] || !has_node(mesh, t, node_in_body)) continue;
    // Linear along the edges: 1 on the body's side, 0 on the other, mid-edge nodes between.
    Eigen::Matrix<double, 6, 1> g;
    for (int i = 0; i < 3; ++i)
      g[i] = node_in_body[static_cast<std::size_t>(mesh.triangles(t, i))] ? 1.0 : 0.0;
    g.tail<3>() << 0.5 * (g[0] + g[1]), 0.5 * (g[1] + g[2]), 0.5 * (g[2] + g[0]);
    for (const TrianglePoint& q : triangle_quadrature()) {
      const ElementPoint p = weighted_point(mesh, t, q);
      const Eigen::Vector2d b = flux_at(p, mesh, a, t);
      const Eigen::Vector2d slope(-p.by.dot(g), p.bx.dot(g));  // ∇g
      const Eigen::Vector2d pull = -nu0 * (b * b.dot(slope) - 0.5 * b.squaredNorm() * slope);
      load.force += p.weight * pull;
      load.torque += p.weight * cross(p.x, pull);
    }
  }
  return load;
}

double band_torque(const MemberMesh& mesh, const Eigen::VectorXd& a, double r1, double r2) {
  const double slack = 1e-6 * (r2 - r1);
  double sum = 0.0;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    bool inside = true;
    for (int i = 0; i < 3; ++i) {
      const double r = mesh.nodes.row(mesh.triangles(t, i)).norm();
      inside = inside && r1 - slack <= r && r <= r2 + slack;
    }
    if (!inside) continue;
    for (const TrianglePoint& q : triangle_quadrature()) {
      const ElementPoint p = weighted_point(mesh, t, q);
      const Eigen::Vector2d b = flux_at(p, mesh, a, t);
      // r B_r B_θ = (x·b)(x × b)/r
      sum += p.weight * p.x.dot(b) * cross(p.x, b) / p.x.norm();
    }
  }
  return nu0 * sum / (r2 - r1);
}

}  // namespace lodegear
