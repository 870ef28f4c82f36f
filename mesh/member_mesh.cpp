// mesh/member_mesh.cpp — from a gear to the meshes of its members.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/member_mesh.h"

#include <stdexcept>

#include "mesh/kept_meshes.h"
#include "mesh/mesh_plan.h"
#include "mesh/sector_copies.h"

namespace lodegear {

static QuadraticMesh unit_mesh(const UnitDrawing& unit, const Arrangement& drawing,
                               const CutDrawing& cut, const SizeField& size) {
  std::vector<int> face_of;
  const PolygonFaces faces = polygons(drawing, cut, face_of);
  const Triangulation triangles = triangulation(
      faces, [&size](const Eigen::Vector2d& x) { return size.at(x); }, name_of(unit.member));
  return quadratic_mesh(drawing, cut, triangles, face_of,
                        {unit.limits.inner.radius, unit.limits.outer.radius});
}

static MemberMesh member_mesh(const MeshOrder& order) {
  const UnitDrawing& unit = order.unit;
  const Arrangement drawing = arrangement(unit.domain, unit.outlines);
  SizeRules rules;
  rules.steel_corner = order.steel_corner;
  const SizeField size(unit, drawing, order.fineness, rules);
  const CutDrawing cut = cut_drawing(unit, drawing, size);
  const QuadraticMesh sector = unit_mesh(unit, drawing, cut, size);
  MemberMesh mesh = repeated(unit, drawing, cut, sector);
  mesh.quality = quality(sector);
  mesh.quality.area *= unit.n_sectors;
  if (mesh.quality.smallest_jacobian_ratio <= 0.0)
    throw std::runtime_error(std::string("the mesh of the ") + name_of(unit.member) +
                             " folds over itself");
  return mesh;
}

std::vector<MemberMesh> member_meshes(const Gear& gear, const MeshPlan& plan, KeptMeshes* kept) {
  std::vector<MemberMesh> meshes;
  for (Member member : members_present(gear)) {
    const MeshOrder order{unit_drawing(gear, plan, member), plan.resolution.fineness,
                          plan.resolution.steel_corner};
    meshes.push_back(kept ? kept->of(order, [&order] { return member_mesh(order); })
                          : member_mesh(order));
  }
  return meshes;
}

bool MemberMesh::operator==(const MemberMesh& other) const {
  const auto same = [](const auto& a, const auto& b) { return a.rows() == b.rows() && a == b; };
  return member == other.member && same(nodes, other.nodes) && same(triangles, other.triangles) &&
         region == other.region && regions == other.regions && n_sectors == other.n_sectors &&
         nodes_per_sector == other.nodes_per_sector &&
         triangles_per_sector == other.triangles_per_sector && inner == other.inner &&
         outer == other.outer && quality == other.quality;
}

}  // namespace lodegear
