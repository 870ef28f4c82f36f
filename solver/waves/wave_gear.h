// solver/waves/wave_gear.h — members seen wave by wave, tied across the gaps.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>
#include <vector>

#include "solver/field/field_problem.h"
#include "solver/waves/member_waves.h"
#include "solver/waves/steel_bodies.h"

namespace lodegear {

/// One member: its linear part, and its saturable steel (possibly none).
struct WaveMember {
  WaveMember(const FieldMember& member, int orders_inside, int orders_outside)
      : WaveMember(member, split_sector(member), orders_inside, orders_outside) {}

  MemberWaves linear;
  SteelBodies bodies;

 private:
  WaveMember(const FieldMember& member, const Sector& sector, int orders_inside, int orders_outside)
      : linear(member, sector, orders_inside, orders_outside), bodies(member, sector) {}
};

/// Stiffness of one gap by order k = 1 … K (theory 3.2): of either side's own amplitude and across.
struct GapStiffness {
  Eigen::VectorXd own;    ///< π ν0 k coth(kL)
  Eigen::VectorXd cross;  ///< −π ν0 k / sinh(kL)
};

class KeptMembers;

/// All members, from inside to outside. Their unknowns stand one after the other in one vector.
class WaveGear {
 public:
  /// Members that `kept` holds are not condensed again.
  explicit WaveGear(const FieldProblem& problem, KeptMembers* kept = nullptr);

  std::size_t n_members() const { return members_.size(); }
  const WaveMember& member(std::size_t i) const { return *members_[i]; }
  const GapStiffness& gap(std::size_t g) const { return gaps_[g]; }
  std::size_t n_gaps() const { return gaps_.size(); }
  /// The member that the others are eliminated onto: the modulator, or the last.
  std::size_t core() const { return core_; }
  Eigen::Index first(std::size_t member) const { return first_[member]; }
  Eigen::Index n_unknowns() const { return first_.back(); }
  auto part(Eigen::VectorXcd& u, std::size_t i) const {
    return u.segment(first_[i], first_[i + 1] - first_[i]);
  }
  auto part(const Eigen::VectorXcd& u, std::size_t i) const {
    return u.segment(first_[i], first_[i + 1] - first_[i]);
  }

  /// e^{ik(α_i − α_o)} of each gap: turns the outer side's amplitudes into the inner member's
  /// frame.
  std::vector<Eigen::VectorXcd> phases(const Position& position) const;
  /// The gap's amplitudes C = a − i b on the side of `member` (body frame).
  Eigen::VectorXcd orders(const Eigen::VectorXcd& u, std::size_t member, std::size_t gap) const;
  const WavePort& port(std::size_t member, std::size_t gap) const;

  /// result += factor · what the amplitudes u of member `from` ask of the gap's other side.
  void add_across(const std::vector<Eigen::VectorXcd>& phases, std::size_t gap, std::size_t from,
                  double factor, const Eigen::VectorXcd& u, Eigen::VectorXcd& result) const;
  /// result += S(θ) u over all gaps.
  void add_gaps(const std::vector<Eigen::VectorXcd>& phases, const Eigen::VectorXcd& u,
                Eigen::VectorXcd& result) const;

 private:
  std::vector<std::shared_ptr<const WaveMember>> members_;
  std::vector<Member> names_;
  std::vector<GapStiffness> gaps_;
  std::size_t core_ = 0;
  std::vector<Eigen::Index> first_;
};

}  // namespace lodegear
