// cases/loss_map.h — where in a member its losses arise, triangle by triangle.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <utility>
#include <vector>

#include "solver/post/eddy_loss.h"
#include "solver/post/flux_loci.h"

namespace lodegear {

/// One number a triangle of each member, as in FieldProblem::members.
using TriangleNumbers = std::vector<std::vector<double>>;

/// W/m³ of every triangle of one member's mesh, mean over the cycle; 0 where nothing is lost. The
/// eddy loss of a solid body is spread evenly over it: where in the body it arises is not said.
class LossMap {
 public:
  explicit LossMap(const MemberHistory& history);

  /// Of triangles that stand for all, W/m³ (IronLoss::density).
  void add(const std::vector<std::pair<int, double>>& density);
  /// Of insulated bodies, `factor` times what `loss` says.
  void add_bodies(const EddyLoss& loss, double factor = 1.0);
  /// Of regions that are one ring, W per metre of length.
  void add_ring(const std::vector<int>& regions, double loss);

  const std::vector<double>& density() const { return density_; }

 private:
  void add_to_copies(int triangle, double density);
  double area(const std::vector<int>& regions) const;

  const MemberHistory& history_;
  std::vector<double> density_;
};

}  // namespace lodegear
