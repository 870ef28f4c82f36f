// cases/studies/quick_slip.cpp — slip torque from a few positions about the expected peak.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/quick_slip.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "cases/curve_work.h"
#include "cases/members.h"
#include "cases/slip_figures.h"
#include "materials/constants.h"
#include "solver/motion/positions.h"

namespace lodegear {

namespace {

constexpr int steps_per_period = 24, first_step = 4, half_period = 12;

/// Lagrange's polynomial through five values at −2 … 2.
double polynomial(const std::array<double, 5>& values, double x) {
  double sum = 0.0;
  for (int i = 0; i < 5; ++i) {
    double weight = 1.0;
    for (int j = 0; j < 5; ++j)
      if (j != i) weight *= (x - (j - 2)) / (i - j);
    sum += weight * values[static_cast<std::size_t>(i)];
  }
  return sum;
}

/// Root mean square of what a + b cos x + c sin x leaves, x counted from the middle.
double beside_a_sine(const std::array<double, 5>& values) {
  Eigen::Matrix<double, 5, 3> shapes;
  for (int i = 0; i < 5; ++i) {
    const double x = (i - 2) * 2 * pi / steps_per_period;
    shapes.row(i) << 1.0, std::cos(x), std::sin(x);
  }
  const Eigen::Map<const Eigen::Matrix<double, 5, 1>> wanted(values.data());
  const Eigen::Vector3d fitted = shapes.colPivHouseholderQr().solve(wanted);
  return (wanted - shapes * fitted).norm() / std::sqrt(5.0);
}

Positions five_positions(const Case& c, bool opposite) {
  const Positions all =
      slip_positions(pole_counts(c.gear), c.slip->turned, steps_per_period, start_position(c.gear));
  const int from = first_step + (opposite ? half_period : 0);
  return {all.begin() + from, all.begin() + from + 5};
}

/// False if the points do not tell it.
bool add_peaks(const Case& c, const std::vector<CurvePoint>& points, SlipTorque& slip) {
  for (const Member m : members_inside_out) {
    if (!has(c.gear, m)) continue;
    std::array<double, 5> sizes{};
    for (std::size_t i = 0; i < 5; ++i) sizes[i] = std::abs(of(points[i].torque, m));
    const auto top = top_of_five(sizes);
    if (!top || top->open > most_open) return false;
    if (top->value <= of(slip.peak, m)) continue;
    of(slip.peak, m) = top->value;
    if (m == telling_member(c))
      slip.load_angle = points[2].load_angle + top->at * 2 * pi / steps_per_period;
  }
  return true;
}

}  // namespace

std::optional<TopOfFive> top_of_five(const std::array<double, 5>& values) {
  const auto high = std::max_element(values.begin(), values.end()) - values.begin();
  if (high == 0 || high == 4) return std::nullopt;
  TopOfFive top;
  // Golden section, to where the value no longer changes.
  double low = static_cast<double>(high) - 3, up = static_cast<double>(high) - 1;
  constexpr double part = 0.6180339887498949;
  for (int i = 0; i < 40; ++i) {
    const double a = up - part * (up - low), b = low + part * (up - low);
    (polynomial(values, a) < polynomial(values, b) ? low : up) =
        polynomial(values, a) < polynomial(values, b) ? a : b;
  }
  top.at = 0.5 * (low + up);
  top.value = polynomial(values, top.at);
  top.open = beside_a_sine(values) / top.value;
  return top;
}

std::optional<CaseResult> quick_slip(const Case& c, const PreparedCase& prepared,
                                     const RunOptions& options) {
  CaseResult result = bare_result(c, prepared);
  result.slip_torque.emplace();
  CurveWork work(c, options, result.stack_length);
  for (const bool opposite : {false, true}) {
    if (opposite && mirror_poles(c.gear)) continue;
    const auto points =
        work.curves(*prepared.solver, "slip torque", {five_positions(c, opposite)}, nullptr);
    if (!all_converged(points.front()) || !add_peaks(c, points.front(), *result.slip_torque))
      return std::nullopt;
  }
  return result;
}

}  // namespace lodegear
