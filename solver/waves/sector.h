// solver/waves/sector.h — one of the equal sectors of a member, and which of its nodes stay.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>
#include <optional>
#include <string>
#include <vector>

#include "solver/field/field_problem.h"

namespace lodegear {

/// Where a node of a sector's triangles lies: in the sector itself, on its upper side (there it is
/// node `local` of the next sector), or on the axis.
struct SectorNode {
  enum class Place { here, next, axis } place = Place::here;
  int local = 0;
};

/// The nodes of a sector by what becomes of them on the fast path (theory 7), each list by number
/// within the sector; and the triangles of sector 0 by their law. A node on the axis is in no list:
/// there A = 0, which fixes the member's free constant.
struct Sector {
  int n_sectors = 0;
  std::vector<int> interior;  ///< linear, touching nothing else: eliminated within the sector
  std::vector<int> rim;       ///< linear, on the lower side or a circle: eliminated wave by wave
  std::vector<int> boundary;  ///< of saturable steel, towards anything else or on the side: stay
  std::vector<int> steel;     ///< within saturable steel: eliminated body by body
  std::vector<int> linear_triangles, steel_triangles;
  bool has_axis = false;
};

/// Place of member node `node`, seen from sector 0.
SectorNode sector_node(const MemberMesh& mesh, int node);

/// Why the sectors of the member are not equal, in words for a person; none if they are. Only what
/// the field operator feels must be equal: magnets may differ in strength and direction.
std::optional<std::string> unequal_sectors(const FieldMember& member);

/// Expects equal sectors.
Sector split_sector(const FieldMember& member);

/// Some triangles of sector 0 cut free of the neighbours and numbered anew: the nodes of `lists`,
/// one list after the other, of which the first n_inner touch no side; then the copies that stand
/// on the upper side.
struct CutSector {
  CutSector(const MemberMesh& mesh, const std::vector<const std::vector<int>*>& lists,
            const std::vector<int>& of_triangles, int n_inner);

  int n_own = 0;           ///< nodes of `lists` beyond the inner ones
  std::vector<int> upper;  ///< of each copy: which of those n_own it is, one sector on
  Eigen::Matrix<int, Eigen::Dynamic, 6, Eigen::RowMajor> triangles;  ///< −1: the axis
};

/// Gᴴ S G: the matrix over a cut sector's n_own nodes and copies as a wave sees it, for which each
/// copy is its node times `step`. (theory 7.3)
Eigen::MatrixXcd joined(const Eigen::MatrixXd& kept, const std::vector<int>& upper,
                        std::complex<double> step);

}  // namespace lodegear
