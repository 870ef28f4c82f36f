// cases/studies/design_figures.cpp — figures of a design, read off its result.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/design_figures.h"

#include <algorithm>
#include <cmath>

#include "cases/ends_of_case.h"
#include "cases/figures.h"
#include "cases/members.h"
#include "cases/thermal_of_case.h"
#include "cases/units.h"
#include "mesh/member_limits.h"

namespace lodegear {

namespace {

using Value = std::optional<double>;

Value slip_torque_on(const CaseResult& r, Member m) {
  return r.slip_torque ? Value(of(r.slip_torque->peak, m)) : std::nullopt;
}

Value slip_error(const CaseResult& r, Member) {
  const auto error = estimated_error(r);
  return error ? Value(100 * *error) : std::nullopt;
}

Value bench_torque(const CaseResult& r, Member m) {
  if (!r.slip_torque) return std::nullopt;
  const auto ends = ends_input(r.input);
  return ends ? Value(of(r.slip_torque->peak, m) * end_effect(*ends).ratio) : std::nullopt;
}

double mass_of(const CaseResult& r, bool magnets) {
  double mass = 0.0;
  for (const PartMass& part : active_masses(r))
    if ((part.part == "magnet") == magnets) mass += part.one * part.count;
  return mass;
}
Value magnet_mass(const CaseResult& r, Member) { return mass_of(r, true); }
Value steel_mass(const CaseResult& r, Member) { return mass_of(r, false); }

Value torque_per_mass(const CaseResult& r, Member) {
  if (!r.slip_torque) return std::nullopt;
  const Member m = r.input.gear.modulator ? Member::modulator : Member::ring;
  return of(r.slip_torque->peak, m) / mass_of(r, true);
}

Value weakest_torque(const CaseResult& r, Member m) {
  if (!r.slip_torque || !r.slip_torque->weakest) return std::nullopt;
  return of(*r.slip_torque->weakest, m);
}

Value stiffness_of(const CaseResult& r, Member m) {
  if (!r.stiffness) return std::nullopt;
  return of(r.stiffness->per_turn, m) * from_deg(1.0);
}

/// None if the mesh does not follow the ripple.
Value ripple_percent(const CaseResult& r, const RunningCurve& curve, Member m) {
  if (!curve.ripple || curve.ripple_below) return std::nullopt;
  return percent_of_slip(r, m, (*curve.ripple)[static_cast<std::size_t>(m)].peak_to_peak);
}

Value cogging(const CaseResult& r, Member m) {
  const RunningCurve* curve = no_load_curve(r);
  return curve ? ripple_percent(r, *curve, m) : std::nullopt;
}

Value ripple_under_load(const CaseResult& r, Member m) {
  Value largest;
  for (const RunningCurve& curve : r.running_curves) {
    if (&curve == no_load_curve(r)) continue;
    const Value here = ripple_percent(r, curve, m);
    if (!here) return std::nullopt;
    largest = std::max(largest.value_or(0.0), *here);
  }
  return largest;
}

Value diameter(const CaseResult& r, Member) { return to_mm(outer_diameter(r.input.gear)); }

Value clearance(const CaseResult& r, std::size_t gap) {
  if (gap >= r.clearances.size()) return std::nullopt;
  return to_mm(std::min(r.clearances[gap].running_inner, r.clearances[gap].running_outer));
}
Value inner_clearance(const CaseResult& r, Member) { return clearance(r, 0); }
Value outer_clearance(const CaseResult& r, Member) { return clearance(r, 1); }

std::vector<DesignFigure> all_figures() {
  std::vector<DesignFigure> all;
  const auto per_member = [&all](const std::string& what, const std::string& ending,
                                 const char* unit, bool running, auto value) {
    for (const Member m : members_inside_out)
      all.push_back({what + "_" + name_of(m) + "_" + ending, unit, true, value == &stiffness_of,
                     running, m, value});
  };
  per_member("slip_torque", "Nm", "N·m", false, slip_torque_on);
  all.push_back({"slip_torque_error_percent", "%", true, false, false, {}, slip_error});
  per_member("bench_torque", "Nm", "N·m", false, bench_torque);
  all.push_back(
      {"slip_torque_per_magnet_mass_Nm_per_kg", "N·m/kg", true, false, false, {}, torque_per_mass});
  per_member("weakest_torque", "Nm", "N·m", true, weakest_torque);
  per_member("stiffness", "Nm_per_deg", "N·m/°", false, stiffness_of);
  per_member("cogging", "percent", "%", true, cogging);
  per_member("ripple", "percent", "%", true, ripple_under_load);
  all.push_back({"magnet_mass_kg", "kg", false, false, false, {}, magnet_mass, true});
  all.push_back({"steel_mass_kg", "kg", false, false, false, {}, steel_mass, true});
  all.push_back({"outer_diameter_mm", "mm", false, false, false, {}, diameter});
  all.push_back({"inner_clearance_mm", "mm", false, false, false, {}, inner_clearance});
  all.push_back({"outer_clearance_mm", "mm", false, false, false, {}, outer_clearance});
  return all;
}

const std::vector<DesignFigure>& figures() {
  static const std::vector<DesignFigure> all = all_figures();
  return all;
}

int n_gaps(const Gear& gear) {
  return static_cast<int>(std::max<std::size_t>(members_present(gear).size(), 1)) - 1;
}

bool asks_load_angle(const Case& c, bool zero) {
  return c.running && std::any_of(c.running->load_angles.begin(), c.running->load_angles.end(),
                                  [zero](double a) { return (std::abs(a) < 1e-12) == zero; });
}

}  // namespace

const DesignFigure* design_figure(const std::string& name) {
  for (const DesignFigure& figure : figures())
    if (figure.name == name) return &figure;
  return nullptr;
}

std::vector<std::string> design_figure_names() {
  std::vector<std::string> names;
  for (const DesignFigure& figure : figures()) names.push_back(figure.name);
  return names;
}

std::string why_no_figure(const DesignFigure& figure, const Case& c) {
  if (figure.member && !has(c.gear, *figure.member))
    return std::string("needs a ") + name_of(*figure.member) + ", which the base case has not.";
  if (figure.needs_slip && !c.slip) return "needs a slip curve, which the base case has not.";
  if (figure.needs_running && !c.running)
    return "needs running curves, which the base case has not.";
  if (figure.value == cogging && !asks_load_angle(c, true))
    return "needs a load angle 0 in running.load_angles_deg of the base case.";
  if (figure.value == ripple_under_load && !asks_load_angle(c, false))
    return "needs a load angle other than 0 in running.load_angles_deg of the base case.";
  if (figure.value == inner_clearance && n_gaps(c.gear) < 1) return "needs a gap.";
  if (figure.value == outer_clearance && n_gaps(c.gear) < 2) return "needs two gaps.";
  if ((figure.value == bench_torque || figure.value == torque_per_mass) &&
      (!c.gear.sun || !c.gear.ring))
    return "needs a sun and a ring.";
  return {};
}

std::vector<std::string> usual_figures(const Case& c) {
  std::vector<std::string> names;
  for (const DesignFigure& figure : figures()) {
    const bool usual = figure.value == slip_torque_on || figure.value == inner_clearance ||
                       figure.value == outer_clearance || figure.value == magnet_mass;
    if (usual && why_no_figure(figure, c).empty()) names.push_back(figure.name);
  }
  return names;
}

}  // namespace lodegear
