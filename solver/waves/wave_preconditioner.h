// solver/waves/wave_preconditioner.h — the gear as it would be if all sectors were alike.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/linear/complex_block.h"
#include "solver/waves/wave_gear.h"

namespace lodegear {

/// Solves for a gear whose sectors all have the mean tangent, and whose rotors look to the
/// modulator as they do on the average over all angles; both make waves fall apart. Exact where
/// that is so already, close elsewhere: the preconditioner of the conjugate gradients. (theory 7.8)
class WavePreconditioner {
 public:
  /// `mean_tangents`: of the kept places of each member's bodies; empty where there are none.
  WavePreconditioner(const WaveGear& gear, const std::vector<Eigen::MatrixXd>& mean_tangents);

  /// Members but the core that have no saturable steel are solved for once and for all: takes
  /// their part of r off it, and gives their part of M⁻¹ r with what r·M⁻¹ r that was.
  double eliminate(const std::vector<Eigen::VectorXcd>& phases, Eigen::VectorXcd& r,
                   Eigen::VectorXcd& z) const;
  /// z = M⁻¹ r at the position of `phases`, for an r after eliminate(); and what the linear part of
  /// the gear has beyond M there, (K + S − M_linear) z.
  void solve(const std::vector<Eigen::VectorXcd>& phases, const Eigen::VectorXcd& r,
             Eigen::VectorXcd& z, Eigen::VectorXcd& beyond) const;

 private:
  using Waves = std::vector<ComplexBlock>;
  std::size_t gap_of(std::size_t end) const { return end < gear_->core() ? end : end - 1; }
  bool is_linear_end(std::size_t i) const {
    return i != gear_->core() && gear_->member(i).bodies.empty();
  }
  enum class Only { all, orders };  // what is not zero in r
  void times_inverse(std::size_t member, Only only, const Eigen::VectorXcd& r,
                     Eigen::VectorXcd& z) const;

  const WaveGear* gear_;
  std::vector<Waves> inverses_;  // of each member, one a wave
  Eigen::VectorXd seen_;         // of the core's unknowns: what the others take off them
  mutable Eigen::VectorXcd work_, asked_, answer_;
};

}  // namespace lodegear
