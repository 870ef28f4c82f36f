// solver/field/newton.h — Newton's method on the saturable members of a gear at one position.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

#include "solver/field/field_solution.h"
#include "solver/field/field_solver.h"
#include "solver/field/member_system.h"
#include "solver/field/port_system.h"
#include "solver/linear/cholesky.h"

namespace lodegear {

using Vectors = std::vector<Eigen::VectorXd>;  ///< one a member

/// C = F T⁻¹ Fᵀ of a member, from the factor of its tangent; empty for a member alone.
Eigen::MatrixXd port_compliance(const MemberSystem& system, const Cholesky& factor);

/// A member without saturable steel: condensed once, then only its amplitudes matter.
struct LinearMember {
  LinearMember(const MemberSystem& system, const Eigen::VectorXd& end_own);
  /// A at the nodes under the flux loads q.
  Eigen::VectorXd potential(const MemberSystem& system, const Eigen::VectorXd& source,
                            const Eigen::VectorXd& q) const;
  /// c_0 = F T⁻¹ f; the magnets' own is kept.
  Eigen::VectorXd free_amplitudes(const MemberSystem& system, const Eigen::VectorXd& source) const;

  Cholesky factor;
  std::optional<CondensedMember> condensed;
  Eigen::VectorXd magnet_amplitudes;  ///< c_0 without an applied field
  mutable std::mutex solving;         ///< the factor serves one thread at a time
};

/// A member with saturable steel, as one thread sees it.
struct SaturableMember {
  explicit SaturableMember(const MemberSystem& system);

  Cholesky factor;                           ///< of some tangent
  std::optional<CondensedMember> condensed;  ///< of the same; none before the first
  Eigen::VectorXd a;                         ///< Wb/m
  Eigen::VectorXd residual;                  ///< f − g(A) − Σ Fᵀ q
  double energy = 0.0;                       ///< W − f·A, J/m
};

/// The members of a gear: for each either `linear` or `saturable` is there.
struct NewtonMembers {
  const std::vector<MemberSystem>& systems;
  const std::vector<std::unique_ptr<LinearMember>>& linear;
  std::vector<std::optional<SaturableMember>>& saturable;
};

/// Moves A and q (flux loads) to the field at `position`, from where they are. `sources`: f of each
/// member; `free_amplitudes`: c_0 of each linear one.                          (theory section 5)
SolveSummary newton(NewtonMembers members, PortSystem& ports, const SolverOptions& options,
                    const Position& position, const Vectors& sources,
                    const Vectors& free_amplitudes, Vectors& q);

}  // namespace lodegear
