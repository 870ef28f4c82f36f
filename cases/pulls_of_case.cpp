// cases/pulls_of_case.cpp — what magnets, pole pieces and bearings of a case must hold.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/pulls_of_case.h"

#include <algorithm>
#include <cmath>

#include "cases/members.h"
#include "cases/thermal_of_case.h"
#include "materials/constants.h"
#include "solver/post/mechanics.h"

namespace lodegear {

namespace {

// Of the positions of a slip or a cycle: pulls change slowly with the load angle, and no more with
// the position in step.
constexpr std::size_t positions_looked_at = 8;

std::size_t step_through(const std::vector<FieldSolution>& solutions) {
  return std::max<std::size_t>(1, solutions.size() / positions_looked_at);
}

PartPull worst_of(const std::vector<PartExtremes>& parts, const PartMass& mass, double length,
                  double speed) {
  PartPull worst;
  worst.member = mass.member;
  worst.part = mass.part;
  worst.mass = mass.one;
  for (const PartExtremes& part : parts) {
    if (part.first.part != mass.part || part.first.index < 0) continue;
    const double radius = part.first.centre.norm();
    worst.centrifugal = mass.one * radius * speed * speed;
    const double per_metre = worst.centrifugal / length;
    const double pull =
        mass.part == "magnet"
            ? pull_off(part, mass.member == Member::sun ? Seat::within : Seat::without, per_metre)
            : std::max(part.most_outward + per_metre, part.most_inward);
    worst.pull_off = std::max(worst.pull_off, pull * length);
    worst.shear = std::max(worst.shear, part.most_shear * length);
  }
  return worst;
}

}  // namespace

std::vector<PartPull> part_pulls(const Validation& validation,
                                 const std::vector<FieldSolution>& slip,
                                 const MemberSpeeds& speeds) {
  const CaseResult& gear = validation.gear;
  std::vector<PartPull> pulls;
  for (const Member m : members_inside_out) {
    std::vector<std::vector<PartLoad>> loads;
    for (std::size_t i = 0; i < slip.size(); i += step_through(slip))
      loads.push_back(part_loads(gear.solver->problem(), slip[i], m));
    const std::vector<PartExtremes> parts = part_extremes(loads);
    for (const PartMass& mass : validation.masses)
      if (mass.member == m && (mass.part == "magnet" || mass.part == "pole piece"))
        pulls.push_back(worst_of(parts, mass, gear.stack_length, speeds.of(m)));
  }
  return pulls;
}

std::vector<SidePull> side_pulls(const Validation& validation, const SolvedCycle& at_load) {
  const CaseResult& gear = validation.gear;
  const OffCentre off_centre(gear.solver->problem());
  std::vector<SidePull> pulls;
  for (const Member m : members_inside_out) pulls.push_back({m});
  for (std::size_t i = 0; i < at_load.solutions.size(); i += step_through(at_load.solutions)) {
    const OffCentrePull here = off_centre.at(at_load.solutions[i]);
    for (SidePull& pull : pulls) {
      pull.centred =
          std::max(pull.centred, here.centred_on(pull.member).norm() * gear.stack_length);
      pull.negative_stiffness = std::max(pull.negative_stiffness,
                                         here.negative_stiffness(pull.member) * gear.stack_length);
    }
  }
  return pulls;
}

namespace {

GapLoss tolerance(const char* name, double value, const char* key) {
  return {name, value, std::string("build.") + key, false};
}

/// What one member's own parts take from the gaps beside it.
std::vector<GapLoss> losses_of(const Validation& v, Member m) {
  const Tolerances& t = v.gear.input.service.build.tolerances;
  const std::string of_member = std::string(", ") + name_of(m);
  std::vector<GapLoss> losses = {tolerance("bearing play", t.bearing_play, "bearing_play_mm"),
                                 tolerance("run-out", t.run_out, "run_out_mm"),
                                 tolerance("roundness", t.roundness, "roundness_mm")};
  if (m != Member::modulator) {
    losses.push_back(tolerance("magnets", t.magnet, "magnet_tolerance_mm"));
    losses.push_back(tolerance("glue line", t.glue_line, "glue_line_mm"));
  }
  for (GapLoss& loss : losses) loss.name += of_member;
  return losses;
}

// Sheet and structural steel, and austenitic stainless rods: 200 and 193 GPa (from memory).
constexpr double steel_stiffness = 200e9, rod_stiffness = 193e9;

/// How far the middle of the worst pole piece bends under the pull found through a slip. Loose
/// sheets without rod or bridge are not counted: then the carrier's slots must hold them.
std::optional<GapLoss> bending(const Validation& v) {
  const Modulator& modulator = *v.gear.input.gear.modulator;
  const Build& build = v.gear.input.service.build;
  const bool sheets = [&] {
    const auto steel = v.gear.input.steels.find(modulator.material);
    return steel != v.gear.input.steels.end() && steel->second.material.thickness > 0.0;
  }();
  PoleBar bar;
  bar.length = modulator.active_length;
  bar.ends = build.held_at_both_ends ? Ends::supported : Ends::cantilever;
  bar.height = modulator.outer_radius - modulator.inner_radius;
  bar.width = pi * (modulator.inner_radius + modulator.outer_radius) / modulator.pole_pieces / 2;
  bar.youngs_modulus = steel_stiffness;
  bar.bonded = build.bonded || !sheets;
  if (build.rod_diameter > 0.0) bar.rod = CarryingRod{build.rod_diameter, rod_stiffness};
  for (const PartPull& pull : v.pulls) {
    if (pull.part != "pole piece") continue;
    const double bends = deflection(bar, pull.pull_off / v.gear.stack_length);
    if (!std::isfinite(bends)) return std::nullopt;
    return GapLoss{"pole pieces bend", bends,
                   build.held_at_both_ends ? "a bar on two supports" : "a bar held at one end",
                   true};
  }
  return std::nullopt;
}

double warming(const Validation& v, Member m) {
  const std::string part =
      m == Member::modulator ? "modulator" : std::string(name_of(m)) + " magnets";
  return v.temperatures.of(part) - v.gear.input.service.use.ambient;
}
double expansion(const Validation& v, Member m) {
  return v.gear.input.service.build.carriers[static_cast<std::size_t>(m)]
      .thermal_expansion.value_or(0.0);
}

}  // namespace

std::vector<ClearanceBudget> clearances(const Validation& validation) {
  const Gear& g = validation.gear.input.gear;
  ClearanceInput input;
  input.sun = losses_of(validation, Member::sun);
  input.modulator = losses_of(validation, Member::modulator);
  input.ring = losses_of(validation, Member::ring);
  if (const auto bends = bending(validation)) input.modulator.push_back(*bends);
  std::vector<ClearanceBudget> budgets = clearance_budgets(g, input);
  const auto growth = [&](Member inner, double r_inner, Member outer, double r_outer) {
    return thermal_growth(r_inner, expansion(validation, inner), warming(validation, inner),
                          r_outer, expansion(validation, outer), warming(validation, outer));
  };
  const GapLoss inner =
      growth(Member::sun, g.sun->outer_radius, Member::modulator, g.modulator->inner_radius);
  const GapLoss outer =
      growth(Member::modulator, g.modulator->outer_radius, Member::ring, g.ring->inner_radius);
  for (ClearanceBudget& budget : budgets)
    budget.losses.push_back(budget.name.find("outer") == std::string::npos ? inner : outer);
  return budgets;
}

}  // namespace lodegear
