// solver/field/port_system.h — members tied across the gaps: the small dense system of flux loads.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "solver/field/field_problem.h"
#include "solver/field/member_system.h"
#include "solver/gap/annulus.h"

namespace lodegear {

// Condensed onto its circles a member answers flux loads with c = c_0 − C q, where the compliance
// C = F T⁻¹ Fᵀ is symmetric positive definite. With the annuli (theory 3.3)
//   ( S⁻¹(θ) + C ) q = c_0,                                                           (theory 3.5)
// which is all that remains of a linear gear, and one Newton step of a saturated one. Only S⁻¹
// knows the angles of the members.

/// A member's compliance over its ports and, for a member at the end of the chain (one port), its
/// inverse together with the annulus: none of it depends on the angles.
class CondensedMember {
 public:
  /// `end_own`: own compliance of the one annulus of an end member, empty for the core.
  CondensedMember(Eigen::MatrixXd compliance, const Eigen::VectorXd& end_own);

  const Eigen::MatrixXd& compliance() const { return compliance_; }
  /// C q.
  Eigen::VectorXd times(const Eigen::VectorXd& q) const;
  /// (own + compliance)⁻¹ of an end member.
  const Eigen::MatrixXd& inverse() const { return inverse_; }

 private:
  Eigen::MatrixXd compliance_, inverse_;
};

/// The system (3.5) at one position.
class PortSystem {
 public:
  /// `problem` and `systems` from inside to outside must outlive this object. The other members are
  /// eliminated onto the core: the modulator, or the last member if there is none.
  PortSystem(const FieldProblem& problem, const std::vector<MemberSystem>& systems);

  /// Own compliance of the annulus of end member i; empty for the core.
  Eigen::VectorXd end_own(std::size_t i) const;

  /// Turns the members and factorises. One CondensedMember a member.
  void set(const Position& position, const std::vector<const CondensedMember*>& condensed);
  /// Turns only; enough for compliance_times.
  void turn(const Position& position) { position_ = position; }
  /// Solves (3.5); right-hand side and result one vector a member over its ports, body frames.
  std::vector<Eigen::VectorXd> solve(const std::vector<Eigen::VectorXd>& rhs) const;
  /// S⁻¹(θ) q.
  std::vector<Eigen::VectorXd> compliance_times(const std::vector<Eigen::VectorXd>& q) const;

 private:
  double angle_between(std::size_t gap) const;  // of the outer member relative to the inner one
  double angle_to_core(std::size_t end) const;  // of the end member relative to the core
  Eigen::Index core_row(std::size_t end) const;
  std::size_t gap_of(std::size_t end) const { return end < core_ ? end : end - 1; }

  const std::vector<MemberSystem>& systems_;
  std::vector<Member> names_;
  std::vector<AnnulusCompliance> annuli_;
  std::size_t core_ = 0;
  Position position_;
  std::vector<const CondensedMember*> condensed_;
  Eigen::LLT<Eigen::MatrixXd> factor_;
};

}  // namespace lodegear
