// mesh/member_mesh.cpp — from a gear to the meshes of its members.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/member_mesh.h"

#include <stdexcept>

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

static MemberMesh member_mesh(const Gear& gear, const MeshPlan& plan, Member member) {
  const UnitDrawing unit = unit_drawing(gear, plan, member);
  const Arrangement drawing = arrangement(unit.domain, unit.outlines);
  SizeRules rules;
  rules.steel_corner = plan.resolution.steel_corner;
  const SizeField size(unit, drawing, plan.resolution.fineness, rules);
  const CutDrawing cut = cut_drawing(unit, drawing, size);
  const QuadraticMesh sector = unit_mesh(unit, drawing, cut, size);
  MemberMesh mesh = repeated(unit, drawing, cut, sector);
  mesh.quality = quality(sector);
  mesh.quality.area *= unit.n_sectors;
  if (mesh.quality.smallest_jacobian_ratio <= 0.0)
    throw std::runtime_error(std::string("the mesh of the ") + name_of(member) +
                             " folds over itself");
  return mesh;
}

std::vector<MemberMesh> member_meshes(const Gear& gear, const MeshPlan& plan) {
  std::vector<MemberMesh> meshes;
  for (Member member : members_present(gear)) meshes.push_back(member_mesh(gear, plan, member));
  return meshes;
}

}  // namespace lodegear
