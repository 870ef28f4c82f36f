// solver/post/flux_density.h — B at points and on circles, from a solution with its potentials.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <vector>

#include "mesh/member_mesh.h"
#include "solver/fem/element_table.h"
#include "solver/field/field_solution.h"

namespace lodegear {

/// Finds the triangle that holds a point, and interpolates there. Built once a mesh.
class PointLocator {
 public:
  explicit PointLocator(const MemberMesh& mesh);

  struct Place {
    int triangle;
    double xi, eta;
  };
  /// x in the member's frame, m. None outside the mesh.
  std::optional<Place> place(const Eigen::Vector2d& x) const;

 private:
  std::optional<Place> within(int triangle, const Eigen::Vector2d& x) const;
  int cell(double coordinate, double origin) const;

  const MemberMesh& mesh_;
  Eigen::Vector2d origin_;
  double width_ = 1.0;
  int n_ = 1;
  std::vector<std::vector<int>> cells_;  // triangles whose box meets the cell
};

/// B [T] in the member's frame at a place of the mesh, from A at its nodes.
Eigen::Vector2d flux_density(const MemberMesh& mesh, const Eigen::VectorXd& a,
                             const PointLocator::Place& place);

/// B in the laboratory frame at any point of a solution whose potentials are filled; none where
/// nothing is modelled (ideal iron). In the gap annuli from the harmonics, beyond the last circle
/// and in the bore none as well.
class FluxProbe {
 public:
  explicit FluxProbe(const FieldProblem& problem);
  std::optional<Eigen::Vector2d> at(const FieldSolution& solution, const Eigen::Vector2d& x) const;

 private:
  const FieldProblem& problem_;
  std::vector<PointLocator> locators_;
};

}  // namespace lodegear
