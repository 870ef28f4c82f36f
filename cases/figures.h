// cases/figures.h — every figure of a result with its unit and how it was obtained.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/case_result.h"

namespace lodegear {

/// "4/17/13" of a gear, "6/6" of a coupling, else the pole count of the one or two there are.
std::string pole_text(const Gear& gear);

/// "magnetic gear", "magnetic coupling", "magnet ring" …: what the members make together.
std::string kind_of_machine(const Gear& gear);

/// How the whole went, as an exit code tells it: 0 good, 3 positions without a solution, 5 the peak
/// was not reached; and the same as a sentence.
struct Verdict {
  int exit_code = 0;
  std::string text;
};
Verdict verdict(const CaseResult& result);

/// Positions asked for in all curves.
int n_positions(const CaseResult& result);

/// The largest final residual of all positions, relative.
double worst_residual(const CaseResult& result);

/// The running curve without load, whose ripple is the cogging.
const RunningCurve* no_load_curve(const CaseResult& result);

/// "at no load", "at load angle 45°", "at slip".
std::string condition_text(const RunningCurve& curve);

/// The part of the slip torque on the same member, in per cent; none if it is not known or zero.
std::optional<double> percent_of_slip(const CaseResult& result, Member m, double torque);

// Quantities for a person; `digits` are significant ones, `decimals` places after the point.
std::string percent_text(double part, int digits = 3);  ///< of a part of one: "4.27 %"
std::string torque_text(double newton_metres, int digits = 3);
std::string celsius_text(double celsius);
std::string mm_text(double metres, int decimals = 2);

/// How the slip torque was found between the positions, as a sentence.
std::string how_slip_torque(const Case& c);

/// How far off the worst torque may be: the larger of the bars of slip torque and ripple, part of
/// the slip torque; none if it was not estimated.
std::optional<double> estimated_error(const CaseResult& result);

/// How the bars were found, as a sentence.
inline constexpr const char* how_error =
    "differences from the same positions on coarser meshes, see cases/accuracy.h; the plane model "
    "and the materials are another matter";

/// The sentence that stands with every torque.
inline constexpr const char* torque_caution = "2D; short stacks deliver less";

}  // namespace lodegear
