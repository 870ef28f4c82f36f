// cases/figures.cpp — what the summaries say in common.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/figures.h"

#include <algorithm>
#include <cmath>

#include "cases/members.h"
#include "cases/slip_figures.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

template <class Visit>
void each_point(const CaseResult& result, Visit visit) {
  for (const CurvePoint& point : result.slip_curve) visit(point);
  for (const RunningCurve& curve : result.running_curves)
    for (const CurvePoint& point : curve.points) visit(point);
  if (result.at_slip)
    for (const CurvePoint& point : result.at_slip->points) visit(point);
}

}  // namespace

std::string pole_text(const Gear& gear) {
  std::string text;
  const auto add = [&text](int n) {
    if (!text.empty()) text += '/';
    text += std::to_string(n);
  };
  if (gear.sun) add(gear.sun->pole_pairs);
  if (gear.modulator) add(gear.modulator->pole_pieces);
  if (gear.ring) add(gear.ring->pole_pairs);
  return text;
}

std::string kind_of_machine(const Gear& gear) {
  if (gear.sun && gear.modulator && gear.ring) return "magnetic gear";
  if (gear.sun && gear.ring) return "magnetic coupling";
  if (gear.modulator && (gear.sun || gear.ring)) return "magnet rotor and pole pieces";
  return gear.modulator ? "pole pieces alone" : "magnet rotor alone";
}

int n_positions(const CaseResult& result) {
  int n = 0;
  each_point(result, [&n](const CurvePoint&) { ++n; });
  return n;
}

double worst_residual(const CaseResult& result) {
  double worst = 0.0;
  each_point(result, [&worst](const CurvePoint& point) {
    if (!point.summary.residuals.empty()) worst = std::max(worst, point.summary.residuals.back());
  });
  return worst;
}

/// All is solved: only what was asked for and not reached is left to be said.
static Verdict accuracy_verdict(const CaseResult& result) {
  const Accuracy& accuracy = result.input.accuracy;
  if (!accuracy.asked || !accuracy.part) return {0, "All positions are solved."};
  const auto error = estimated_error(result);
  if (!error)
    return {5, "The error could not be estimated: a coarser mesh to compare with has no solution."};
  if (*error <= *accuracy.part) return {0, "All positions are solved."};
  return {5, "An accuracy of " + number_text(100 * *accuracy.part) +
                 " % was asked for; the finest mesh reaches " + percent_text(*error, 2) + "."};
}

Verdict verdict(const CaseResult& result) {
  if (result.not_converged > 0)
    return {3, std::to_string(result.not_converged) + " of " + std::to_string(n_positions(result)) +
                   " positions have no solution: the curves have holes there, and figures that "
                   "would need them are left out."};
  if (result.slip_torque && !result.slip_torque->peak_reached)
    return {5,
            "The slip curve ends before the torque falls again: the slip torque is at least what "
            "is given. A larger slip.last_load_angle_deg shows the peak."};
  return accuracy_verdict(result);
}

std::optional<double> estimated_error(const CaseResult& result) {
  if (result.rungs.empty() || !result.slip_torque || !result.slip_torque->error)
    return std::nullopt;
  return std::max(result.rungs.back().slip_error, result.rungs.back().ripple_error);
}

const RunningCurve* no_load_curve(const CaseResult& result) {
  for (const RunningCurve& curve : result.running_curves)
    if (std::abs(curve.load_angle) < 1e-12) return &curve;
  return nullptr;
}

std::string condition_text(const RunningCurve& curve) {
  if (std::abs(curve.load_angle) < 1e-12) return "no load";
  return "load angle " + rounded_text(to_deg(curve.load_angle), 1) + "°";
}

std::optional<double> percent_of_slip(const CaseResult& result, Member m, double torque) {
  if (!result.slip_torque || !(of(result.slip_torque->peak, m) > 0.0)) return std::nullopt;
  return 100.0 * torque / of(result.slip_torque->peak, m);
}

std::string percent_text(double part, int digits) { return significant(100 * part, digits) + " %"; }
std::string torque_text(double newton_metres, int digits) {
  return significant(newton_metres, digits) + " N·m";
}
std::string celsius_text(double celsius) { return rounded_text(celsius, 0) + " °C"; }
std::string mm_text(double metres, int decimals) {
  return rounded_text(to_mm(metres), decimals) + " mm";
}

std::string how_slip_torque(const Case& c) {
  if (!c.slip) return {};
  const bool whole = c.slip->last_load_angle > 2 * std::numbers::pi * (1 - 1e-9);
  return "largest torque along the slip curve (" + std::string(name_of(c.slip->turned)) +
         " turned, the others held), refined between positions " +
         (whole ? "by the trigonometric polynomial through one period and, where that leaves "
                  "something open, by "
                  "solving about its tops"
                : "by the parabola through the highest three");
}

}  // namespace lodegear
