// cases/run_case.h — the story of a case: meshes, field, sweeps, figures.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <string>

#include "cases/case_result.h"

namespace lodegear {

struct KeptParts;

struct RunOptions {
  int threads = 1;
  /// For `validate`, which judges slip torque, not what lies between positions: they are not
  /// doubled beyond 24 for the curve's sake, and its potentials come first in CaseResult::kept.
  bool judging = false;
  /// Called as work goes on: what is being done, positions done and in all (of the whole run).
  std::function<void(const std::string& stage, int done, int total)> progress = {};
  KeptParts* kept = nullptr;  ///< members of cases run before, see cases/kept_parts.h
};

/// Meshes, solves and reads off everything the case asks for. A position that does not converge
/// leaves a hole in its curve and is counted; figures that would need it are left out.
/// Throws std::runtime_error if a mesh cannot be made.
CaseResult run_case(const Case& c, const RunOptions& options = {});

/// Meshes and solver of a case, for whoever wants the field at some position only.
struct PreparedCase {
  MeshPlan plan;
  std::vector<MemberMeshFigures> meshes;
  std::shared_ptr<const FieldSolver> solver;
};
PreparedCase prepared_case(const Case& c, KeptParts* kept = nullptr);
PreparedCase prepared_case(const Case& c, const Resolution& resolution,
                           const SolverOptions& options = {}, KeptParts* kept = nullptr);

/// The field at one position, potentials filled. Throws std::runtime_error if it has no solution.
FieldSolution solved_position(const PreparedCase& prepared, const Position& position);

/// A result in which nothing is computed yet but the mesh.
CaseResult bare_result(const Case& c, const PreparedCase& prepared);

/// Pole counts with which load_angle() counts electrical angle: of a gear p_s/n/p_r; a coupling of
/// sun and ring counts the ring negative; of an absent member zero.
PoleCounts pole_counts(const Gear& gear);

/// Whether in both rotors every pole is the mirror image of the next (half-wave symmetry) and no
/// magnet is odd: then ripple repeats LCM(2p_s, n) times a turn, else less often.
bool mirror_poles(const Gear& gear);

}  // namespace lodegear
