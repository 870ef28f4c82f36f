// cases/probe.h — the flux density anywhere in the plane at one position, as a Hall probe meets it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "solver/field/field_solver.h"
#include "solver/post/flux_density.h"

namespace lodegear {

/// B in the laboratory frame: in the meshes and gaps, and in the air inside and around them, where
/// every order dies out from the last circle on:
///   A = Σ_k (a_k cos kθ + b_k sin kθ) (R/r)^k outside, (r/R)^k in the bore.         (theory 3.4)
class Probe {
 public:
  /// `solution` with its potentials filled; both must outlive the probe.
  Probe(const FieldProblem& problem, const FieldSolution& solution);

  /// T; none inside ideal iron, where nothing is modelled.
  std::optional<Eigen::Vector2d> flux_density_at(const Eigen::Vector2d& x) const;

 private:
  /// Air beyond a circle of a member, with the amplitudes of A on it in the laboratory frame.
  struct OpenAir {
    double radius = 0.0;
    Eigen::VectorXd amplitudes;  // 2K: a_1 … a_K, b_1 … b_K
  };
  OpenAir open_air(std::size_t member, const BoundaryCircle& circle) const;
  static Eigen::Vector2d beyond(const OpenAir& air, const Eigen::Vector2d& x, bool outside);

  const FieldProblem& problem_;
  const FieldSolution& solution_;
  FluxProbe inside_;
  std::optional<OpenAir> bore_, outside_;
};

/// `n` even points on the circle of radius r [m], counter-clockwise from +x.
std::vector<Eigen::Vector2d> circle_points(double r, int n);

}  // namespace lodegear
