// solver/post/stress.h — forces and torques from Maxwell's stress in the meshed air.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "mesh/member_mesh.h"

namespace lodegear {

/// What a body feels, per metre of stack, in the member's frame.
struct BodyLoad {
  Eigen::Vector2d force = Eigen::Vector2d::Zero();  ///< N/m
  double torque = 0.0;                              ///< N·m/m about the axis, counter-clockwise
};

/// Load on a body that air surrounds (or a boundary circle, or nothing). With g = 1 on the nodes of
/// the body, falling to 0 across the next layer of air elements,
///   F = −∫ σ ∇g dS,  T = −∫ x × (σ ∇g) dS,  σ = (b bᵀ − |b|²/2)/µ0.                   (theory 4.3)
/// `in_body`: T flags. Source: Henrotte, Deliège, Hameyer, COMPEL 23 (2004) 427 (the stress
/// integral over a shell of elements).
BodyLoad body_load(const MemberMesh& mesh, const Eigen::VectorXd& a,
                   const std::vector<bool>& in_body);

/// The body and `layers` layers of the air elements about it, but none that touches a boundary
/// circle: further from its corners the stress is known better.
std::vector<bool> with_air_around(const MemberMesh& mesh, std::vector<bool> in_body, int layers);

/// Torque per metre carried through the band r1..r2, averaged over its radii:
///   T/L = 1/(µ0 (r2 − r1)) ∫ r B_r B_θ dS                                             (theory 4.2)
/// over the triangles that lie in the band; they must fill it and be air.
/// Source: Arkkio, Acta Polytechnica Scandinavica, El. Eng. Series 59 (1987), §2.4.
double band_torque(const MemberMesh& mesh, const Eigen::VectorXd& a, double r1, double r2);

}  // namespace lodegear
