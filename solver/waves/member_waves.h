// solver/waves/member_waves.h — the linear part of a member of equal sectors, wave by wave.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <vector>

#include "solver/linear/complex_block.h"
#include "solver/waves/open_sector.h"
#include "solver/waves/sector.h"
#include "solver/waves/sector_waves.h"

namespace lodegear {

/// Where the amplitude of one order is found among a member's unknowns: C = a − i b itself, its
/// conjugate, or, in a standing wave, a and b one after the other as two real numbers.
struct OrderSlot {
  enum class Kind { direct, conjugate, standing } kind = Kind::direct;
  Eigen::Index at = 0;
};

/// A circle on which the member meets a gap.
struct WavePort {
  std::vector<OrderSlot> orders;  // K
};

/// What is left of a member when all its linear nodes are eliminated: per wave ν a Hermitian matrix
/// over the steel boundary b and the orders c of its ports,
///   ∂W/∂(b, c) = K_ν (b, c) − g_ν,                                              (theory 7.3 – 7.5)
/// with nothing of the saturable steel in it. Unknowns: wave after wave, b first and then c, as one
/// complex vector u; Re(ū·v) is the product of the real values.
class MemberWaves {
 public:
  MemberWaves(const FieldMember& member, const Sector& sector, int orders_inside,
              int orders_outside);

  const SectorWaves& waves() const { return waves_; }
  Eigen::Index n_unknowns() const { return first_.back(); }
  Eigen::Index n_boundary() const { return n_boundary_; }
  /// Where the unknowns of a wave begin, and how many they are.
  Eigen::Index first(int wave) const { return first_[static_cast<std::size_t>(wave)]; }
  Eigen::Index size(int wave) const { return first(wave + 1) - first(wave); }
  const Eigen::MatrixXcd& stiffness(int wave) const {
    return blocks_[static_cast<std::size_t>(wave)].stiffness;
  }
  const Eigen::VectorXcd& source() const { return source_; }
  /// Of the gap inside, then of the gap outside, as far as there is one.
  const std::vector<WavePort>& ports() const { return ports_; }

  /// result = K u.
  void times(const Eigen::Ref<const Eigen::VectorXcd>& u,
             Eigen::Ref<Eigen::VectorXcd> result) const;
  /// b of all sectors, n×n_boundary, from u; and the other way round, into zeros elsewhere.
  void boundary_of(const Eigen::Ref<const Eigen::VectorXcd>& u, Eigen::MatrixXd& b) const;
  void add_boundary(const Eigen::MatrixXd& b, Eigen::Ref<Eigen::VectorXcd> u) const;

  /// A at all nodes but those within saturable steel, which are left as they are.
  void fill_potentials(const Eigen::Ref<const Eigen::VectorXcd>& u, Eigen::VectorXd& a) const;

 private:
  struct Circle {            // circles whose orders, or some of them, enter wave by wave
    std::vector<int> rows;   // of its nodes in one sector, among rim and boundary
    Eigen::MatrixXd orders;  // amplitudes a, b of orders 1 … last from those nodes
    int last = 0;
    int gap_orders = 0;  // orders 1 … gap_orders stay as unknowns; the rest see open air
  };
  struct Block {
    Eigen::MatrixXcd stiffness;
    ComplexBlock times;                // the same
    Eigen::LLT<Eigen::MatrixXcd> rim;  // T_ww
    Eigen::MatrixXcd rim_boundary;     // T_wb
    Eigen::MatrixXcd rim_orders;       // F over the rim
    Eigen::VectorXcd rim_source;       // f_w
  };
  void add_circle(const FieldMember& member, const BoundaryCircle& circle, Beyond beyond,
                  int n_orders);
  void lay_out();
  void condense(int wave);
  Eigen::MatrixXcd order_rows(const Circle& circle, int wave, int first, int last) const;

  Sector sector_;
  int nodes_per_sector_;
  OpenSector open_;
  SectorWaves waves_;
  Eigen::Index n_rim_, n_boundary_;
  std::vector<Circle> circles_;
  std::vector<WavePort> ports_;
  std::vector<Eigen::Index> first_;
  std::vector<Block> blocks_;
  Eigen::MatrixXcd rim_source_;  // f on rim and boundary, by wave
  Eigen::VectorXcd source_;
};

}  // namespace lodegear
