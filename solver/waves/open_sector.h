// solver/waves/open_sector.h — the linear part of one sector, condensed onto its rim.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/waves/sector.h"

namespace lodegear {

/// One sector cut free on both sides. *Kept* nodes: rim, then boundary, then the copies of such
/// nodes on the upper side. All sectors are turned copies, so one real elimination serves all of
/// them:
///   S = T_kk − T_ki T_ii⁻¹ T_ik,    f_k − T_ki T_ii⁻¹ f_i a sector.                  (theory 7.1)
struct OpenSector {
  OpenSector(const FieldMember& member, const Sector& sector);

  Eigen::MatrixXd stiffness;    ///< S
  std::vector<int> upper;       ///< for each copy its place among rim and boundary
  Eigen::MatrixXd source;       ///< n × (rim and boundary): f with the interior's share, merged
  Eigen::MatrixXd to_interior;  ///< A_i = interior_source − to_interior · A_k
  Eigen::MatrixXd interior_source;  ///< interior × n
};

}  // namespace lodegear
