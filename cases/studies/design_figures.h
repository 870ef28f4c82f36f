// cases/studies/design_figures.h — what can be wanted of every design of a study.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/case_result.h"

namespace lodegear {

// The names, each also the column of study.csv; <member> is sun, modulator or ring. Torques are of
// the plane model unless they are called bench.
//
//   slip_torque_<member>_Nm           peak of the slip curve
//   slip_torque_error_percent         its error bar; only with accuracy_percent
//   bench_torque_<member>_Nm          the same times what the ends of the stack leave
//   slip_torque_per_magnet_mass_Nm_per_kg     on the modulator (of a coupling: the ring)
//   weakest_torque_<member>_Nm        smallest torque in step at the load angle of the peak
//   stiffness_<member>_Nm_per_deg     at no load, the others held
//   cogging_<member>_percent          peak to peak at load angle 0, of the slip torque there
//   ripple_<member>_percent           largest peak to peak at the other running.load_angles_deg
//   magnet_mass_kg, steel_mass_kg     of magnets; of pole pieces, hub and back iron
//   outer_diameter_mm                 of magnets and steel
//   inner_clearance_mm, outer_clearance_mm    smallest running clearance of that gap, nominal
//
// The weakest torque, cogging and ripple need many positions, the others few.

struct DesignFigure {
  std::string name;
  std::string unit;
  bool needs_slip = false;
  bool needs_curve = false;  ///< a whole slip curve, not only its peak
  bool needs_running = false;
  std::optional<Member> member;
  /// None where the result does not hold it.
  std::optional<double> (*value)(const CaseResult& result, Member member) = nullptr;
  bool needs_mesh = false;  ///< of those that need no solution: more than the drawing
};

/// Null if there is none of that name.
const DesignFigure* design_figure(const std::string& name);
std::vector<std::string> design_figure_names();

/// Why a case cannot have this figure, as a sentence without a subject, or nothing.
std::string why_no_figure(const DesignFigure& figure, const Case& c);

/// Slip torques, clearances and mass of magnets, as far as the case has them.
std::vector<std::string> usual_figures(const Case& c);

}  // namespace lodegear
