// solver/waves/steel_bodies.h — the saturable steel of all sectors of a member, worked on together.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>
#include <vector>

#include "solver/fem/element_table.h"
#include "solver/linear/lane_cholesky.h"
#include "solver/waves/sector.h"

namespace lodegear {

/// An element's gradients at one quadrature point, with the products that its tangent needs.
struct SteelPoint {
  double bx[6], by[6], weight;
  double products[21];  ///< weight · (bx_i bx_j + by_i by_j), j ≤ i
};

/// The steel of one sector is a body; all are turned copies of that of sector 0 and feel the same
/// element matrices. Places of a body: inner steel nodes in the order of elimination, then its
/// boundary, then the boundary nodes on the upper side, which are the next body's too.
class SteelBodies {
 public:
  SteelBodies(const FieldMember& member, const Sector& sector);

  bool empty() const { return points_.empty(); }
  int n_bodies() const { return n_bodies_; }
  int n_inner() const { return pattern_.n_inner(); }
  int n_places() const { return pattern_.n_inner() + pattern_.n_kept(); }
  const LanePattern& pattern() const { return pattern_; }

  /// Puts the boundary values of all sectors, n×boundary, on the kept places; and adds what is on
  /// the kept places to them.
  void scatter(const Eigen::MatrixXd& boundary, Lanes& x) const;
  void gather(const Lanes& x, Eigen::MatrixXd& boundary) const;
  /// Which of the boundary each copy on the upper side is.
  const std::vector<int>& upper() const { return upper_; }

  /// ∂W/∂A at all places.
  void loads(const Lanes& a, Lanes& load) const;
  /// W(A) of all bodies [J/m].
  double energy(const Lanes& a) const;
  /// The tangent of one group of eight bodies, into the factor's entries; with `instead` as if all
  /// steel had that law.
  void tangent(const Lanes& a, int group, LaneCholesky& factor,
               const Reluctivity* instead = nullptr) const;

  /// A of the inner nodes into the member's nodes.
  void inner_to_nodes(const Lanes& a, Eigen::VectorXd& nodes) const;

 private:
  using Elements = std::vector<std::vector<int>>;
  Elements numbered(const FieldMember& member, const Sector& sector);
  void add_points(const FieldMember& member, const Sector& sector);

  const Reluctivity& law_of(std::size_t element) const {
    return laws_[static_cast<std::size_t>(law_[element])];
  }

  int n_bodies_, nodes_per_sector_, n_boundary_ = 0;
  std::vector<int> inner_nodes_;              // local node at each inner place
  std::vector<int> upper_;                    // boundary number of each copy
  Elements elements_;                         // six places each, −1 on the axis
  std::vector<std::array<int, 21>> entries_;  // of the factor, −1 for none
  std::vector<SteelPoint> points_;
  std::vector<int> law_;  // of each element
  std::vector<Reluctivity> laws_;
  LanePattern pattern_;
};

}  // namespace lodegear
