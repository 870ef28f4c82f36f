// tests/support/gear_field.h — from a gear to its field in one line.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/mesh_plan.h"
#include "solver/field/field_solver.h"

namespace lodegear {

/// The gear's materials are "magnet" and "steel"; ideal iron needs none.
struct TestMaterials {
  double remanence = 1.2;
  double mu_rec = 1.0;
  Reluctivity steel = Reluctivity::constant(nu0 / 1000);
};

inline FieldSolver gear_solver(const Gear& gear, const TestMaterials& materials = {},
                               const Resolution& resolution = {}) {
  FieldMaterials laws;
  laws.magnets["magnet"] = {materials.remanence, materials.mu_rec};
  laws.magnets["no magnet"] = {0.0, materials.mu_rec};
  laws.reluctivity.emplace("steel", materials.steel);
  laws.reluctivity.emplace("plastic", Reluctivity::constant(nu0));
  const MeshPlan plan = mesh_plan(gear, resolution);
  return FieldSolver(field_problem(gear, member_meshes(gear, plan), plan, laws));
}

/// The law of the peer solution: Brauer's with k1, k2, k3 of M400–M530-50A class sheet.
inline Reluctivity peer_steel() { return Reluctivity::exponential(3.5, 2.14, 95); }

/// Amplitude of one spatial order of B_r and B_θ on the circle of radius r, T.
inline Eigen::Vector2d order_amplitude(const GapField& gap, double r, int order) {
  const FluxHarmonics h = flux_harmonics(gap, r);
  return {std::hypot(h.r_cos[order - 1], h.r_sin[order - 1]),
          std::hypot(h.t_cos[order - 1], h.t_sin[order - 1])};
}

}  // namespace lodegear
