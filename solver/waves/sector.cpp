// solver/waves/sector.cpp — one of the equal sectors of a member, and which of its nodes stay.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/sector.h"

namespace lodegear {

namespace {

// What the nodes of a sector touch.
struct Touched {
  explicit Touched(std::size_t n) : steel(n), linear(n), side(n), circle(n) {}
  std::vector<bool> steel, linear, side, circle;
};

Touched touched(const FieldMember& member, Sector& sector) {
  const MemberMesh& mesh = member.mesh;
  Touched t(static_cast<std::size_t>(mesh.nodes_per_sector));
  for (int e = 0; e < mesh.triangles_per_sector; ++e) {
    const bool linear = member.law(e).reluctivity.linear();
    (linear ? sector.linear_triangles : sector.steel_triangles).push_back(e);
    for (int i = 0; i < 6; ++i) {
      const SectorNode node = sector_node(mesh, mesh.triangles(e, i));
      if (node.place == SectorNode::Place::axis) continue;
      const auto at = static_cast<std::size_t>(node.local);
      (linear ? t.linear : t.steel)[at] = true;
      if (node.place == SectorNode::Place::next) t.side[at] = true;
    }
  }
  for (const auto* circle : {&mesh.inner, &mesh.outer})
    if (*circle)
      for (int node : (*circle)->nodes)
        t.circle[static_cast<std::size_t>(node % mesh.nodes_per_sector)] = true;
  return t;
}

}  // namespace

SectorNode sector_node(const MemberMesh& mesh, int node) {
  const int per_sector = mesh.nodes_per_sector;
  if (node == mesh.n_sectors * per_sector) return {SectorNode::Place::axis, 0};
  return {node < per_sector ? SectorNode::Place::here : SectorNode::Place::next, node % per_sector};
}

std::optional<std::string> unequal_sectors(const FieldMember& member) {
  const MemberMesh& mesh = member.mesh;
  const std::string name = name_of(mesh.member);
  if (mesh.n_sectors < 2) return "the " + name + " does not consist of equal sectors";
  for (int j = 1; j < mesh.n_sectors; ++j)
    for (int t = 0; t < mesh.triangles_per_sector; ++t) {
      const int there = j * mesh.triangles_per_sector + t;
      const Reluctivity& a = member.law(t).reluctivity;
      const Reluctivity& b = member.law(there).reluctivity;
      const bool equal = a.linear() && b.linear()
                             ? a.at(0).nu == b.at(0).nu
                             : a.linear() == b.linear() &&
                                   member.region(t).material == member.region(there).material;
      if (!equal) return "one sector of the " + name + " has another permeability than the others";
    }
  return std::nullopt;
}

Sector split_sector(const FieldMember& member) {
  Sector sector;
  sector.n_sectors = member.mesh.n_sectors;
  sector.has_axis = member.mesh.nodes.rows() > member.mesh.n_sectors * member.mesh.nodes_per_sector;
  const Touched t = touched(member, sector);
  for (int i = 0; i < member.mesh.nodes_per_sector; ++i) {
    const auto at = static_cast<std::size_t>(i);
    const bool edge = t.side[at] || t.circle[at];
    if (t.steel[at])
      (edge || t.linear[at] ? sector.boundary : sector.steel).push_back(i);
    else
      (edge ? sector.rim : sector.interior).push_back(i);
  }
  return sector;
}

CutSector::CutSector(const MemberMesh& mesh, const std::vector<const std::vector<int>*>& lists,
                     const std::vector<int>& of_triangles, int n_inner)
    : triangles(static_cast<int>(of_triangles.size()), 6) {
  std::vector<int> here(static_cast<std::size_t>(mesh.nodes_per_sector), -1), copy = here;
  int next = 0;
  for (const auto* list : lists)
    for (int node : *list) here[static_cast<std::size_t>(node)] = next++;
  n_own = next - n_inner;
  for (int t = 0; t < triangles.rows(); ++t)
    for (int i = 0; i < 6; ++i) {
      const SectorNode at =
          sector_node(mesh, mesh.triangles(of_triangles[static_cast<std::size_t>(t)], i));
      const auto local = static_cast<std::size_t>(at.local);
      if (at.place == SectorNode::Place::next && copy[local] < 0) {
        copy[local] = next++;
        upper.push_back(here[local] - n_inner);
      }
      triangles(t, i) = at.place == SectorNode::Place::axis   ? -1
                        : at.place == SectorNode::Place::here ? here[local]
                                                              : copy[local];
    }
}

Eigen::MatrixXcd joined(const Eigen::MatrixXd& kept, const std::vector<int>& upper,
                        std::complex<double> step) {
  const Eigen::Index n_own = kept.cols() - static_cast<Eigen::Index>(upper.size());
  Eigen::MatrixXcd half = kept.leftCols(n_own).cast<std::complex<double>>();
  for (std::size_t c = 0; c < upper.size(); ++c)
    half.col(upper[c]) += step * kept.col(n_own + static_cast<Eigen::Index>(c));
  Eigen::MatrixXcd whole = half.topRows(n_own);
  for (std::size_t c = 0; c < upper.size(); ++c)
    whole.row(upper[c]) += std::conj(step) * half.row(n_own + static_cast<Eigen::Index>(c));
  return whole;
}

}  // namespace lodegear
