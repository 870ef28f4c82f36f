// solver/post/part_bodies.cpp — which triangles, edges and nodes of a mesh belong to which part.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/part_bodies.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "solver/fem/element_table.h"

namespace lodegear {

namespace {

bool like_air(const RegionLaw& law) {
  return law.remanence == 0.0 && law.reluctivity.linear() && law.reluctivity.at(0.0).nu == nu0;
}

void add_regions(const FieldMember& member, PartBodies& bodies) {
  const MemberMesh& mesh = member.mesh;
  std::vector<int> body(mesh.regions.size(), -1);
  for (std::size_t r = 0; r < mesh.regions.size(); ++r)
    if (mesh.regions[r].kind != RegionKind::air && !like_air(member.laws[r])) {
      body[r] = static_cast<int>(bodies.parts.size());
      PartLoad part;
      part.part = mesh.regions[r].part;
      part.index = mesh.regions[r].index;
      bodies.parts.push_back(part);
    }
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    const int b = body[member.region_number(t)];
    bodies.of_triangle.push_back(b);
    if (b < 0) continue;
    PartLoad& part = bodies.parts[static_cast<std::size_t>(b)];
    for (const ElementPoint& p : element_points(mesh, t)) {
      part.area += p.weight;
      part.centre += p.weight * p.x;
    }
  }
  for (PartLoad& part : bodies.parts)
    if (part.area > 0) part.centre /= part.area;
}

// Every edge of the mesh; those of two triangles seen from the first.
std::vector<MeshEdge> all_edges(const MemberMesh& mesh) {
  struct Seen {
    int low, high, triangle, local;
  };
  std::vector<Seen> seen;
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    for (int e = 0; e < 3; ++e) {
      const int a = mesh.triangles(t, e), b = mesh.triangles(t, (e + 1) % 3);
      seen.push_back({std::min(a, b), std::max(a, b), t, e});
    }
  std::sort(seen.begin(), seen.end(), [](const Seen& x, const Seen& y) {
    return std::tie(x.low, x.high, x.triangle) < std::tie(y.low, y.high, y.triangle);
  });
  std::vector<MeshEdge> edges;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    MeshEdge edge;
    edge.triangle = seen[i].triangle;
    edge.local = seen[i].local;
    if (i + 1 < seen.size() && seen[i].low == seen[i + 1].low && seen[i].high == seen[i + 1].high) {
      ++i;
      edge.beyond_triangle = seen[i].triangle;
      edge.beyond_local = seen[i].local;
    }
    edges.push_back(edge);
  }
  return edges;
}

std::vector<bool> on_circles(const MemberMesh& mesh) {
  std::vector<bool> on(static_cast<std::size_t>(mesh.nodes.rows()), false);
  for (const auto* circle : {&mesh.inner, &mesh.outer})
    if (*circle)
      for (int node : (*circle)->nodes) on[static_cast<std::size_t>(node)] = true;
  return on;
}

// The chains of edges at which the mesh ends on iron that was cut out.
class Holes {
 public:
  Holes(const MemberMesh& mesh, const std::vector<bool>& circle) : mesh_(mesh), circle_(circle) {}

  void add_to(PartBodies& bodies) {
    std::map<int, std::vector<std::size_t>> chains;  // by the smallest node of each
    for (std::size_t e = 0; e < bodies.edges.size(); ++e)
      if (is_hole(bodies.edges[e])) join(corner(bodies.edges[e], 0), corner(bodies.edges[e], 1));
    for (std::size_t e = 0; e < bodies.edges.size(); ++e)
      if (is_hole(bodies.edges[e])) chains[root(corner(bodies.edges[e], 0))].push_back(e);

    std::vector<std::pair<PartLoad, std::vector<std::size_t>>> parts;
    for (const auto& [node, chain] : chains) parts.emplace_back(part_of(bodies, chain), chain);
    // Counted as magnets and pole pieces are: from the one on +x, counter-clockwise.
    std::sort(parts.begin(), parts.end(),
              [](const auto& x, const auto& y) { return turn_of(x.first) < turn_of(y.first); });
    int index = 0;
    for (auto& [part, chain] : parts) {
      if (part.index >= 0) part.index = index++;
      for (std::size_t e : chain)
        bodies.edges[e].beyond_body = static_cast<int>(bodies.parts.size());
      bodies.parts.push_back(part);
    }
  }

 private:
  int corner(const MeshEdge& edge, int end) const {
    return mesh_.triangles(edge.triangle, (edge.local + end) % 3);
  }
  bool is_hole(const MeshEdge& edge) const {
    return edge.beyond_triangle < 0 && !(circle_[static_cast<std::size_t>(corner(edge, 0))] &&
                                         circle_[static_cast<std::size_t>(corner(edge, 1))]);
  }
  int root(int node) {
    const auto found = parent_.emplace(node, node).first;
    if (found->second == node) return node;
    return found->second = root(found->second);
  }
  void join(int a, int b) {
    const int x = root(a), y = root(b);
    parent_[std::max(x, y)] = std::min(x, y);
  }

  // Area and centre by Green's theorem; the mesh runs round a hole clockwise, and round the axis
  // once if the hole is a hub or back iron.
  PartLoad part_of(const PartBodies& bodies, const std::vector<std::size_t>& chain) const {
    double area = 0.0, turn = 0.0;
    Eigen::Vector2d moment = Eigen::Vector2d::Zero();
    for (std::size_t e : chain) {
      const MeshEdge& edge = bodies.edges[e];
      const Eigen::Vector2d a = mesh_.nodes.row(corner(edge, 1)),
                            b = mesh_.nodes.row(corner(edge, 0));
      const double twice = a[0] * b[1] - a[1] * b[0];
      area += 0.5 * twice;
      moment += twice / 6 * (a + b);
      turn += std::atan2(twice, a.dot(b));
    }
    PartLoad part;
    part.part = "ideal iron";
    part.index = std::abs(turn) > 1.0 ? -1 : 0;
    part.area = std::max(0.0, area);  // of a back iron nothing is known but its inside
    if (part.index >= 0) part.centre = moment / area;
    return part;
  }
  // Angle from −a little to a full turn; what goes around the axis first.
  static double turn_of(const PartLoad& part) {
    if (part.index < 0) return -1.0;
    const double angle = std::atan2(part.centre[1], part.centre[0]);
    return angle < -1e-6 ? angle + 2 * pi : std::max(angle, 0.0);
  }

  const MemberMesh& mesh_;
  const std::vector<bool>& circle_;
  std::map<int, int> parent_;
};

void share_nodes(const MemberMesh& mesh, PartBodies& bodies) {
  std::vector<std::set<int>> owners(static_cast<std::size_t>(mesh.nodes.rows()));
  const auto own = [&](int t, int corner, int body) {
    owners[static_cast<std::size_t>(mesh.triangles(t, corner))].insert(body);
  };
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    if (const int body = bodies.of_triangle[static_cast<std::size_t>(t)]; body >= 0)
      for (int i = 0; i < 3; ++i) own(t, i, body);
  for (const MeshEdge& edge : bodies.edges)
    if (edge.beyond_triangle < 0 && edge.beyond_body >= 0)
      for (int end : {0, 1}) own(edge.triangle, (edge.local + end) % 3, edge.beyond_body);
  bodies.shares.resize(owners.size());
  for (std::size_t n = 0; n < owners.size(); ++n)
    for (int body : owners[n])
      bodies.shares[n].push_back({body, 1.0 / static_cast<double>(owners[n].size())});
}

// Through the air, layer by layer: each next node takes the mean of the shares beside it. So what
// divides the air between two parts stays far from their corners, where the stress is known worst.
// False if no node was left.
bool spread_shares(const MemberMesh& mesh, PartBodies& bodies) {
  std::map<int, std::map<int, double>> sums;  // node, part
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    if (bodies.of_triangle[static_cast<std::size_t>(t)] >= 0) continue;
    for (int i = 0; i < 3; ++i) {
      const int node = mesh.triangles(t, i);
      if (!bodies.shares[static_cast<std::size_t>(node)].empty()) continue;
      for (int j = 0; j < 3; ++j)
        for (const Share& s : bodies.shares[static_cast<std::size_t>(mesh.triangles(t, j))])
          sums[node][s.body] += s.part;
    }
  }
  for (const auto& [node, parts] : sums) {
    double sum = 0.0;
    for (const auto& [body, part] : parts) sum += part;
    for (const auto& [body, part] : parts)
      bodies.shares[static_cast<std::size_t>(node)].push_back({body, part / sum});
  }
  return !sums.empty();
}

}  // namespace

PartBodies part_bodies(const FieldMember& member) {
  const MemberMesh& mesh = member.mesh;
  PartBodies bodies;
  add_regions(member, bodies);
  const std::vector<bool> circle = on_circles(mesh);
  bodies.edges = all_edges(mesh);
  for (MeshEdge& edge : bodies.edges)
    if (edge.beyond_triangle >= 0)
      edge.beyond_body = bodies.of_triangle[static_cast<std::size_t>(edge.beyond_triangle)];
  Holes(mesh, circle).add_to(bodies);
  std::erase_if(bodies.edges, [&](const MeshEdge& edge) {
    return edge.beyond_triangle >= 0 &&
           edge.beyond_body == bodies.of_triangle[static_cast<std::size_t>(edge.triangle)];
  });
  share_nodes(mesh, bodies);
  while (spread_shares(mesh, bodies)) {
  }
  return bodies;
}

}  // namespace lodegear
