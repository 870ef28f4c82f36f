// solver/post/part_forces.cpp — what every magnet, pole piece and iron of a member feels.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/part_forces.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "solver/fem/element_table.h"
#include "solver/post/circle_stress.h"
#include "solver/post/part_bodies.h"

namespace lodegear {

namespace {

double cross(const Eigen::Vector2d& x, const Eigen::Vector2d& y) {
  return x[0] * y[1] - x[1] * y[0];
}

// Force and moment about the axis, of something small.
struct Wrench {
  Eigen::Vector2d force = Eigen::Vector2d::Zero();
  double torque = 0.0;
  void add(const Eigen::Vector2d& f, const Eigen::Vector2d& at, double times) {
    force += times * f;
    torque += times * cross(at, f);
  }
};

// Three points on 0…1, exact for degree 5: two straight factors of a stress times a curved edge.
struct EdgePoint {
  double s, weight;
};
constexpr EdgePoint edge_points[3] = {
    {0.1127016653792583, 5.0 / 18}, {0.5, 8.0 / 18}, {0.8872983346207417, 5.0 / 18}};

// Height over base below which a triangle is part of a film. A twentieth to a fifth of a millimetre
// of glue is flatter on usual meshes; in wider clefts the triangles know b_t themselves.
constexpr double flat = 0.2;

Eigen::Vector2d reference_point(int edge, double s) {
  if (edge == 0) return {s, 0.0};
  if (edge == 1) return {1.0 - s, s};
  return {0.0, 1.0 - s};
}

// Flux density and field strength on one side of an edge.
struct SideField {
  Eigen::Vector2d b, h;
  double nu;
};

class LoadSums {
 public:
  LoadSums(const FieldMember& member, const Eigen::VectorXd& a, const PartBodies& bodies)
      : member_(member), mesh_(member.mesh), a_(a), bodies_(bodies), loads_(bodies.parts) {}

  std::vector<PartLoad> result(const std::vector<CircleField>& circles) {
    find_films();
    for (int t = 0; t < mesh_.triangles.rows(); ++t)
      if (bodies_.of_triangle[static_cast<std::size_t>(t)] < 0) add_air(t);
    for (const MeshEdge& edge : bodies_.edges) add_edge(edge);
    for (const CircleField& circle : circles) add_circle(circle);
    return loads_;
  }

 private:
  void give(int body, const Wrench& w, double times) {
    PartLoad& load = loads_[static_cast<std::size_t>(body)];
    load.force += times * w.force;
    load.torque += times * w.torque;
  }

  SideField side_field(int t, int edge, double s) const {
    const Eigen::Vector2d at = reference_point(edge, s);
    const ElementPoint p = element_point(mesh_, t, at[0], at[1]);
    SideField f{Eigen::Vector2d::Zero(), Eigen::Vector2d::Zero(), nu0};
    for (int i = 0; i < 6; ++i)
      f.b += a_[mesh_.triangles(t, i)] * Eigen::Vector2d(p.bx[i], p.by[i]);
    const RegionLaw& law = member_.law(t);
    f.nu = law.reluctivity.without_energy(f.b.squaredNorm()).nu;
    f.h = f.nu * f.b;
    if (law.remanence != 0.0) f.h -= f.nu * law.remanence * law.magnetisation.at(p.x);
    return f;
  }

  Eigen::Vector2d corner_of(int t, int corner) const {
    return mesh_.nodes.row(mesh_.triangles(t, corner % 3));
  }

  // Flat triangles of air with all corners on parts.
  void find_films() {
    std::vector<bool> on_part(static_cast<std::size_t>(mesh_.nodes.rows()), false);
    for (const MeshEdge& edge : bodies_.edges) {
      if (edge.beyond_body < 0 && bodies_.of_triangle[static_cast<std::size_t>(edge.triangle)] < 0)
        continue;  // of a boundary circle
      for (int end : {0, 1}) {
        const int node = mesh_.triangles(edge.triangle, (edge.local + end) % 3);
        on_part[static_cast<std::size_t>(node)] = true;
      }
    }
    film_.assign(static_cast<std::size_t>(mesh_.triangles.rows()), nullptr);
    for (const MeshEdge& edge : bodies_.edges) {
      if (edge.beyond_triangle < 0) continue;
      for (const auto& [t, local] : {std::pair{edge.triangle, edge.local},
                                     std::pair{edge.beyond_triangle, edge.beyond_local}}) {
        if (bodies_.of_triangle[static_cast<std::size_t>(t)] >= 0) continue;
        const Eigen::Vector2d base = corner_of(t, local + 1) - corner_of(t, local);
        const double height =
            std::abs(cross(base, corner_of(t, local + 2) - corner_of(t, local))) / base.norm();
        if (height < flat * base.norm() &&
            on_part[static_cast<std::size_t>(mesh_.triangles(t, (local + 2) % 3))])
          film_[static_cast<std::size_t>(t)] = &edge;
      }
    }
  }

  // In a film b_t is a small difference over a small distance; the part beside it knows it better.
  Eigen::Vector2d film_field(const MeshEdge& edge, int t, const ElementPoint& p,
                             const Eigen::Vector2d& b) const {
    const bool is_left = edge.triangle == t;
    const int local = is_left ? edge.local : edge.beyond_local;
    const Eigen::Vector2d from = corner_of(t, local), base = corner_of(t, local + 1) - from;
    const double s = std::clamp(base.dot(p.x - from) / base.squaredNorm(), 0.0, 1.0);
    const SideField beside = is_left ? side_field(edge.beyond_triangle, edge.beyond_local, 1 - s)
                                     : side_field(edge.triangle, edge.local, 1 - s);
    const Eigen::Vector2d tangent = base.normalized();
    return b + (mu0 * beside.h.dot(tangent) - b.dot(tangent)) * tangent;
  }

  // Air: −∫ σ ∇g, with g of each part going from 1 on itself to 0 on the others.   (theory 14.3)
  void add_air(int t) {
    std::array<Wrench, 3> corner;
    for (const TrianglePoint& q : triangle_quadrature()) {
      const ElementPoint p = element_point(mesh_, t, q.xi, q.eta);
      Eigen::Vector2d b = Eigen::Vector2d::Zero();
      for (int i = 0; i < 6; ++i)
        b += a_[mesh_.triangles(t, i)] * Eigen::Vector2d(p.bx[i], p.by[i]);
      if (const MeshEdge* film = film_[static_cast<std::size_t>(t)]) b = film_field(*film, t, p, b);
      for (int i = 0; i < 3; ++i) {
        Eigen::Matrix<double, 6, 1> g = Eigen::Matrix<double, 6, 1>::Zero();
        g[i] = 1.0;
        g[3 + i] = g[3 + (i + 2) % 3] = 0.5;
        const Eigen::Vector2d slope(-p.by.dot(g), p.bx.dot(g));  // ∇g
        const Eigen::Vector2d pull = -nu0 * (b * b.dot(slope) - 0.5 * b.squaredNorm() * slope);
        corner[static_cast<std::size_t>(i)].add(pull, p.x, p.weight * q.weight);
      }
    }
    for (int i = 0; i < 3; ++i)
      for (const Share& share : bodies_.shares[static_cast<std::size_t>(mesh_.triangles(t, i))])
        give(share.body, corner[static_cast<std::size_t>(i)], share.part);
  }

  // What comes in through a boundary circle, divided like the air next to it.
  void add_circle(const CircleField& field) {
    const std::vector<int>& nodes = field.circle->nodes;
    const double edge = 2 * pi / field.circle->n_edges();
    for (std::size_t i = 0; i < nodes.size(); i += 2) {
      const auto from = static_cast<std::size_t>(nodes[i]);
      const auto to = static_cast<std::size_t>(nodes[(i + 2) % nodes.size()]);
      Wrench near, far;
      for (const EdgePoint& point : edge_points) {
        const double angle =
            field.circle->first_angle + edge * (0.5 * static_cast<double>(i) + point.s);
        const Eigen::Vector2d x =
            field.circle->radius * Eigen::Vector2d(std::cos(angle), std::sin(angle));
        const Eigen::Vector2d stress = field.stress(angle);
        const double length = point.weight * edge * field.circle->radius;
        near.add(stress, x, length * (1 - point.s));
        far.add(stress, x, length * point.s);
      }
      for (const auto& [n, w] : {std::pair{from, near}, std::pair{to, far}})
        for (const Share& share : bodies_.shares[n]) give(share.body, w, share.part);
    }
  }

  // Stress in a thin slit along the edge: b_n of the edge, h_t of the side that knows it better.
  Eigen::Vector2d slit_stress(const MeshEdge& edge, double s, const Eigen::Vector2d& along) const {
    const Eigen::Vector2d tangent = along.normalized(), normal(tangent[1], -tangent[0]);
    const SideField left = side_field(edge.triangle, edge.local, s);
    double h_t = 0.0;  // where ideal iron is
    if (edge.beyond_triangle >= 0) {
      const SideField right = side_field(edge.beyond_triangle, edge.beyond_local, 1.0 - s);
      h_t = (left.h.dot(tangent) / left.nu + right.h.dot(tangent) / right.nu) /
            (1.0 / left.nu + 1.0 / right.nu);
    }
    const double b_n = left.b.dot(normal);
    return b_n * h_t * tangent + 0.5 * (nu0 * b_n * b_n - mu0 * h_t * h_t) * normal;
  }

  // `near`, `far`: what the slit stress does, weighted with 1−s and s, s along the edge.
  void edge_wrenches(const MeshEdge& edge, Wrench& near, Wrench& far) const {
    const auto node = [&](int i) {
      return Eigen::Vector2d(mesh_.nodes.row(mesh_.triangles(edge.triangle, i)));
    };
    const Eigen::Vector2d from = node(edge.local), to = node((edge.local + 1) % 3),
                          mid = node(3 + edge.local);
    for (const EdgePoint& point : edge_points) {
      const double s = point.s;
      const Eigen::Vector2d x =
          (1 - s) * (1 - 2 * s) * from + s * (2 * s - 1) * to + 4 * s * (1 - s) * mid;
      const Eigen::Vector2d along = (4 * s - 3) * from + (4 * s - 1) * to + (4 - 8 * s) * mid;
      const Eigen::Vector2d stress = slit_stress(edge, s, along);
      const double length = point.weight * along.norm();
      near.add(stress, x, length * (1 - s));
      far.add(stress, x, length * s);
    }
  }

  void add_edge(const MeshEdge& edge) {
    const int inside = bodies_.of_triangle[static_cast<std::size_t>(edge.triangle)];
    const int outside = edge.beyond_body;
    if (inside == outside) return;
    Wrench near, far;
    if (inside >= 0 && outside >= 0) {  // parts that touch
      edge_wrenches(edge, near, far);
      for (const Wrench& w : {near, far}) {
        give(inside, w, 1.0);
        give(outside, w, -1.0);
      }
      return;
    }
    // A part's face towards air: what the air above gave to its neighbours there is its own.
    const int owner = std::max(inside, outside);
    const auto from = static_cast<std::size_t>(mesh_.triangles(edge.triangle, edge.local));
    const auto to = static_cast<std::size_t>(mesh_.triangles(edge.triangle, (edge.local + 1) % 3));
    if (bodies_.shares[from].size() < 2 && bodies_.shares[to].size() < 2) return;
    edge_wrenches(edge, near, far);
    const double sign = inside >= 0 ? 1.0 : -1.0;  // of the normal, out of the part
    for (const auto& [n, w] : {std::pair{from, near}, std::pair{to, far}})
      for (const Share& share : bodies_.shares[n]) {
        if (share.body == owner) continue;
        give(share.body, w, -sign * share.part);
        give(owner, w, sign * share.part);
      }
  }

  const FieldMember& member_;
  const MemberMesh& mesh_;
  const Eigen::VectorXd& a_;
  const PartBodies& bodies_;
  std::vector<const MeshEdge*> film_;  // of each triangle of air
  std::vector<PartLoad> loads_;
};

}  // namespace

double PartLoad::radial() const { return index < 0 ? 0.0 : force.dot(centre.normalized()); }

double PartLoad::tangential() const { return index < 0 ? 0.0 : cross(centre.normalized(), force); }

double PartLoad::couple() const { return torque - cross(centre, force); }

std::vector<PartLoad> part_loads(const FieldProblem& problem, const FieldSolution& solution,
                                 Member member) {
  assert(solution.a.size() == problem.members.size());
  for (std::size_t i = 0; i < problem.members.size(); ++i) {
    if (problem.members[i].mesh.member != member) continue;
    const PartBodies bodies = part_bodies(problem.members[i]);
    return LoadSums(problem.members[i], solution.a[i], bodies)
        .result(circle_fields(problem, solution, i));
  }
  return {};
}

std::vector<PartExtremes> part_extremes(const std::vector<std::vector<PartLoad>>& loads) {
  std::vector<PartExtremes> parts;
  for (const std::vector<PartLoad>& at_position : loads) {
    if (parts.empty())
      for (const PartLoad& load : at_position) {
        const double radial = load.radial();
        parts.push_back({load, radial, -radial, 0.0, 0.0, 0.0});
      }
    assert(parts.size() == at_position.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const PartLoad& load = at_position[i];
      PartExtremes& part = parts[i];
      part.most_outward = std::max(part.most_outward, load.radial());
      part.most_inward = std::max(part.most_inward, -load.radial());
      part.most_shear = std::max(part.most_shear, std::abs(load.tangential()));
      part.most_couple = std::max(part.most_couple, std::abs(load.couple()));
      part.mean_radial += load.radial() / static_cast<double>(loads.size());
    }
  }
  return parts;
}

double centrifugal_load(double area, double density, double radius, double angular_speed) {
  return density * area * radius * angular_speed * angular_speed;
}

double pull_off(const PartExtremes& part, Seat seat, double centrifugal) {
  const double off =
      seat == Seat::within ? part.most_outward + centrifugal : part.most_inward - centrifugal;
  return std::max(0.0, off);
}

}  // namespace lodegear
