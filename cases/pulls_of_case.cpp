// cases/pulls_of_case.cpp — what magnets, pole pieces and bearings of a case must hold.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/pulls_of_case.h"

#include <algorithm>
#include <cmath>

#include "cases/members.h"
#include "cases/thermal_of_case.h"

namespace lodegear {

namespace {

// Every so many positions of the slip: pulls change slowly with the load angle.
constexpr std::size_t every = 3;

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
  const std::vector<PartMass> masses = active_masses(gear);
  for (const Member m : members_inside_out) {
    std::vector<std::vector<PartLoad>> loads;
    for (std::size_t i = 0; i < slip.size(); i += every)
      loads.push_back(part_loads(gear.solver->problem(), slip[i], m));
    const std::vector<PartExtremes> parts = part_extremes(loads);
    for (const PartMass& mass : masses)
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
  for (const FieldSolution& s : at_load.solutions) {
    const OffCentrePull here = off_centre.at(s);
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

// Growth of one member's carrier at its radius when it is warmer than the room, m.
double growth(const Validation& v, Member m, double radius) {
  const auto& carrier = v.gear.input.service.build.carriers[static_cast<std::size_t>(m)];
  const std::string part =
      m == Member::modulator ? "modulator" : std::string(name_of(m)) + " magnets";
  const double rise = v.temperatures.of(part) - v.gear.input.service.use.ambient;
  return std::max(0.0, carrier.thermal_expansion.value_or(0.0) * rise * radius);
}

ClearanceFigure figure(const Validation& v, const std::string& name, double drawn, Member grows,
                       double radius) {
  const Tolerances& t = v.gear.input.service.build.tolerances;
  ClearanceFigure gap;
  gap.gap = name;
  gap.drawn = drawn;
  gap.losses = {
      {"bearing play", t.bearing_play},
      {"run-out", t.run_out},
      {"roundness of the carriers", t.roundness},
      {"magnets", t.magnet},
      {"glue lines", t.glue_line},
      {std::string("growth of the ") + name_of(grows) + "'s carrier", growth(v, grows, radius)}};
  double sum = 0.0, squares = 0.0;
  for (const ClearanceLoss& loss : gap.losses) {
    sum += loss.value;
    squares += loss.value * loss.value;
  }
  gap.left = {drawn - std::sqrt(squares), drawn - sum, drawn};
  return gap;
}

}  // namespace

std::vector<ClearanceFigure> clearances(const Validation& validation) {
  const Gear& g = validation.gear.input.gear;
  std::vector<ClearanceFigure> all;
  const auto add = [&](const char* name, const GapClearance& gap, Member inside, double radius) {
    const bool wall = std::abs(gap.running_inner - gap.running_outer) > 1e-9;
    const std::string text(name);
    all.push_back(figure(validation, wall ? text + ", below the sleeve" : text, gap.running_inner,
                         inside, radius));
    if (wall)
      all.push_back(
          figure(validation, text + ", above the sleeve", gap.running_outer, inside, 0.0));
  };
  add("inner gap", gap_clearance(g, Gap::inner), Member::sun, g.sun->outer_radius);
  add("outer gap", gap_clearance(g, Gap::outer), Member::modulator, g.modulator->outer_radius);
  return all;
}

}  // namespace lodegear
