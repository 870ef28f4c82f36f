// solver/field/field_problem.cpp — the whole magnetostatic problem as plain data.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/field_problem.h"

#include <stdexcept>

namespace lodegear {

namespace {

RegionLaw magnet_law(const MagnetRotor& rotor, const MeshRegion& region,
                     const FieldMaterials& materials) {
  RegionLaw law;
  law.magnetisation = magnetisation(rotor, region.index);
  if (law.magnetisation.strength == 0.0) return law;  // missing: air in its place
  const MagnetState& magnet = materials.magnets.at(region.material);
  law.remanence = magnet.remanence;
  law.reluctivity = Reluctivity::constant(nu0 / magnet.mu_rec);
  return law;
}

RegionLaw region_law(const Gear& gear, Member member, const MeshRegion& region,
                     const FieldMaterials& materials) {
  if (region.kind == RegionKind::magnet)
    return magnet_law(member == Member::sun ? *gear.sun : *gear.ring, region, materials);
  RegionLaw law;
  if (region.kind != RegionKind::air) law.reluctivity = materials.reluctivity.at(region.material);
  return law;
}

}  // namespace

FieldProblem field_problem(const Gear& gear, std::vector<MemberMesh> meshes, const MeshPlan& plan,
                           const FieldMaterials& materials) {
  FieldProblem problem;
  problem.gaps = plan.gaps;
  for (std::size_t i = 0; i < meshes.size(); ++i) {
    FieldMember member;
    member.mesh = std::move(meshes[i]);
    for (const MeshRegion& region : member.mesh.regions)
      member.laws.push_back(region_law(gear, member.mesh.member, region, materials));
    const auto beyond = [](bool has_circle, bool faces_gap) {
      return !has_circle ? Beyond::ideal_iron : faces_gap ? Beyond::gap : Beyond::open_air;
    };
    member.inside = beyond(member.mesh.inner.has_value(), i > 0);
    member.outside = beyond(member.mesh.outer.has_value(), i + 1 < meshes.size());
    problem.members.push_back(std::move(member));
  }
  if (problem.gaps.size() + 1 != problem.members.size())
    throw std::logic_error("field_problem: members and gaps do not alternate");
  return problem;
}

}  // namespace lodegear
