// cases/studies/quick_slip.h — slip torque from a few positions about the expected peak.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <optional>

#include "cases/run_case.h"

namespace lodegear {

/// Slip torque on every member from load angles 60° to 120°, five positions 15° apart, by the
/// polynomial through them; where poles are no mirror images of each other also from the five
/// opposite ones. A fifth of the work of a slip curve. None if a peak lies outside, a position has
/// no solution, or five positions do not tell enough, because cogging leaves more than `most_open`
/// of the torque beside a smooth curve. Then the whole curve must be computed. Of the result's
/// parts mesh, solver, clearances and `slip_torque` are filled.
std::optional<CaseResult> quick_slip(const Case& c, const PreparedCase& prepared,
                                     const RunOptions& options);
inline constexpr double most_open = 3e-3;

/// The top of five values at −2 … 2, and what they leave beside a level and a sine through them
/// (root mean square, of the top); none if an outer value is the highest.
struct TopOfFive {
  double at = 0.0, value = 0.0, open = 0.0;
};
std::optional<TopOfFive> top_of_five(const std::array<double, 5>& values);

}  // namespace lodegear
