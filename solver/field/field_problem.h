// solver/field/field_problem.h — the whole magnetostatic problem as plain data.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <map>
#include <string>
#include <vector>

#include "materials/reluctivity.h"
#include "mesh/magnet_patterns.h"
#include "mesh/member_mesh.h"
#include "mesh/mesh_plan.h"

namespace lodegear {

/// A magnet material at its temperature: B = B_r + µ0 µ_rec H along the recoil line.
struct MagnetState {
  double remanence = 0.0;  ///< T
  double mu_rec = 1.0;
};

/// What the materials named in a gear mean for the field.
struct FieldMaterials {
  std::map<std::string, Reluctivity> reluctivity;  ///< steels, sleeves
  std::map<std::string, MagnetState> magnets;
};

/// Law of one mesh region: H = ν(B²) B − ν B_r.
struct RegionLaw {
  Reluctivity reluctivity = Reluctivity::constant(nu0);
  double remanence = 0.0;  ///< T
  Magnetisation magnetisation;
  bool operator==(const RegionLaw&) const = default;
};

/// What lies beyond a boundary circle of a member.
enum class Beyond { ideal_iron, gap, open_air };

struct FieldMember {
  MemberMesh mesh;
  std::vector<RegionLaw> laws;  ///< one a region
  Beyond inside = Beyond::ideal_iron;
  Beyond outside = Beyond::open_air;
  /// What is left of the remanence of each triangle, as a part of its law's; empty: all of it.
  std::vector<double> weakened;

  bool operator==(const FieldMember&) const = default;
  std::size_t region_number(int triangle) const {
    return static_cast<std::size_t>(mesh.region[static_cast<std::size_t>(triangle)]);
  }
  const MeshRegion& region(int triangle) const { return mesh.regions[region_number(triangle)]; }
  const RegionLaw& law(int triangle) const { return laws[region_number(triangle)]; }
  /// Size of the remanence of a triangle, T.
  double remanence(int triangle) const {
    const double whole = law(triangle).remanence;
    return weakened.empty() ? whole : whole * weakened[static_cast<std::size_t>(triangle)];
  }
};

/// Members from inside to outside; gaps[i] lies between members[i] and members[i+1].
struct FieldProblem {
  std::vector<FieldMember> members;
  std::vector<GapAnnulus> gaps;
  /// Uniform flux density far away, T. Needs open air outside the last member.
  Eigen::Vector2d applied_field = Eigen::Vector2d::Zero();
};

/// Puts the laws of the gear's materials on the meshes. Throws std::out_of_range if a name has no
/// meaning in `materials`.
FieldProblem field_problem(const Gear& gear, std::vector<MemberMesh> meshes, const MeshPlan& plan,
                           const FieldMaterials& materials);

/// Angles of the members, rad, counter-clockwise.
struct Position {
  double sun = 0.0, modulator = 0.0, ring = 0.0;
  double of(Member member) const {
    return member == Member::sun ? sun : member == Member::modulator ? modulator : ring;
  }
};

}  // namespace lodegear
