// cases/case_result.h — what came out of a case: curves, figures, and how each was obtained.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cases/case.h"
#include "mesh/check_gear.h"
#include "mesh/mesh_plan.h"
#include "solver/field/field_solution.h"
#include "solver/field/field_solver.h"
#include "solver/motion/kinematics.h"
#include "solver/motion/torque_curve.h"

namespace lodegear {

/// One number per member: sun, modulator, ring; of an absent member zero.
using PerMember = std::array<double, 3>;
inline double& of(PerMember& values, Member m) { return values[static_cast<std::size_t>(m)]; }
inline double of(const PerMember& values, Member m) { return values[static_cast<std::size_t>(m)]; }

/// A row of a torque curve. Torques on the members, N·m over the common stack length,
/// counter-clockwise positive.
struct CurvePoint {
  Position position;                                       ///< rad
  double load_angle = 0.0;                                 ///< electrical rad
  PerMember torque{};                                      ///< N·m; meaningless unless converged
  Eigen::Vector2d pull_on_sun = Eigen::Vector2d::Zero();   ///< N, net force, laboratory frame
  Eigen::Vector2d pull_on_ring = Eigen::Vector2d::Zero();  ///< N
  SolveSummary summary;
};

/// A running curve at one load angle.
struct RunningCurve {
  double load_angle = 0.0;  ///< electrical rad
  std::vector<CurvePoint> points;
  int ripples_per_turn = 0;  ///< lowest order symmetry allows, per turn of the sun
                             ///< relative to the modulator
  bool full_cycle = false;   ///< points span the whole cycle, else one ripple period
  /// One a member; none if a position did not converge. Order j of `amplitudes` is ripple order
  /// j·ripples_per_turn, or j per cycle where full_cycle.
  std::optional<std::array<Ripple, 3>> ripple;
  std::optional<PerMember> ripple_error;  ///< N·m, bar of each peak_to_peak
  /// N·m: K does not follow the ripple, whose peak_to_peak lies below this; of `ripple` only the
  /// mean then holds.
  std::optional<PerMember> ripple_below;
};

/// The torque at which the gear slips; 2D.
struct SlipTorque {
  double load_angle = 0.0;  ///< of the peak of the modulator's torque (else the turned member's)
  PerMember peak{};         ///< N·m, largest size on each member along the slip curve, refined
                            ///< between the positions
  std::optional<PerMember> error;    ///< N·m, bar of `peak`: the true one lies within ± this
  std::optional<PerMember> mean;     ///< over a ripple period in step at `load_angle`
  std::optional<PerMember> weakest;  ///< smallest over the same
  bool peak_reached = true;          ///< false if the curve ended before it fell again
};

/// Torque per angle at no load, the slope of the slip curve at load angle 0.
struct Stiffness {
  double per_load_angle =
      0.0;               ///< of the modulator's (else the turned member's) torque, N·m/rad el.
  PerMember per_turn{};  ///< of each member about its own axis, the others held, N·m/rad
};

struct MemberMeshFigures {
  Member member = Member::sun;
  int nodes = 0, triangles = 0, sectors = 1;
  MeshQuality quality;
};

/// A mesh that was tried on the way to the accuracy asked for.
struct Rung {
  double level = 0.0;  ///< mesh/ladder.h
  int unknowns = 0;
  double slip_error = 0.0;    ///< bar of the slip torque, part of it; the worst member
  double ripple_error = 0.0;  ///< the largest bar of a ripple, part of the slip torque
};

struct CaseResult {
  Case input;
  std::string version;  ///< of lodegear
  MeshPlan plan;
  std::vector<MemberMeshFigures> meshes;
  int unknowns = 0;
  double stack_length = 0.0;  ///< m, common to all members; torques are for it
  PoleCounts counts;
  std::optional<std::array<SpeedRatio, 3>> speed_ratios;  ///< with all three members
  std::vector<GapClearance> clearances;                   ///< one a gap, inside to outside
  std::vector<CurvePoint> slip_curve;
  std::optional<SlipTorque> slip_torque;
  std::optional<Stiffness> stiffness;
  std::vector<RunningCurve> running_curves;  ///< as asked, in order
  std::optional<RunningCurve> at_slip;       ///< in step at the load angle of the peak
  std::vector<std::string> remarks;          ///< cautions about the case (remarks.h)
  std::vector<Rung> rungs;                   ///< as tried; the last is the result's
  int not_converged = 0;                     ///< positions without a solution
  /// The solved problem and the solutions whose potentials are kept (output.keep_fields); what
  /// field pictures and later questions work on.
  std::shared_ptr<const FieldSolver> solver;
  std::vector<FieldSolution> kept;
};

}  // namespace lodegear
