// cases/losses_of_case.cpp — what the parts of a case lose, from its materials and a few positions.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/losses_of_case.h"

#include <algorithm>
#include <cmath>

#include "mesh/member_limits.h"
#include "solver/motion/sweep.h"
#include "solver/post/eddy_loss.h"
#include "solver/post/iron_loss.h"
#include "solver/post/solid_steel.h"

namespace lodegear {

namespace {

std::string magnets_of(Member m) { return std::string(name_of(m)) + " magnets"; }

double warm(const PartTemperatures& temperatures, const std::string& part) {
  const auto found = temperatures.find(part);
  return found == temperatures.end() ? 20.0 : found->second;
}

/// Gathers the losses of one member's parts.
class MemberLosses {
 public:
  MemberLosses(const CaseResult& gear, const SolvedCycle& solved, const MemberHistory& history,
               double phase_speed, const PartTemperatures& temperatures,
               std::vector<PartLoss>& into, LossMap& map)
      : case_(gear.input),
        length_(gear.stack_length),
        cycle_(solved.cycle),
        history_(history),
        member_(history.member->mesh.member),
        speed_(phase_speed),
        temperatures_(temperatures),
        into_(into),
        map_(map) {}

  void gather() {
    add_magnets();
    add_steel("pole piece", "modulator");
    add_steel("bridge", "modulator");
    add_steel("wedge", magnets_of(member_));
    add_steel("hub", "sun hub");
    add_steel("back iron", "ring body");
    add_sleeves();
  }

 private:
  PartLoss& part(const std::string& name) {
    for (PartLoss& found : into_)
      if (found.loss.part == name) return found;
    into_.push_back({{name}, {}});
    return into_.back();
  }

  void add_magnets() {
    const std::vector<int> regions = regions_of(history_.member->mesh, "magnet");
    if (regions.empty()) return;
    const MagnetRotor& rotor = rotor_of(case_.gear, member_);
    PartLoss& magnets = part(magnets_of(member_));
    const MagnetMaterial& material = case_.magnets.at(rotor.magnet).material;
    if (!material.resistivity) {
      magnets.cautions.push_back(case_.magnets.at(rotor.magnet).grade +
                                 ": no resistivity is given, so eddy currents count nothing here; "
                                 "right for ferrite and bonded magnets.");
      return;
    }
    Conductor conductor;
    conductor.regions = regions;
    conductor.resistivity = *material.resistivity;
    conductor.row_length = rotor.active_length / rotor.axial_rows;
    const EddyLoss loss = eddy_loss(history_, conductor, speed_);
    magnets.loss.eddy += loss.loss * length_;
    map_.add_bodies(loss);
    if (loss.reaction > large_reaction)
      magnets.cautions.push_back(
          "The eddy currents in these magnets are strong enough to weaken the field that drives "
          "them: the loss is over-estimated.");
  }

  void add_steel(const char* mesh_part, const std::string& name) {
    const MemberMesh& mesh = history_.member->mesh;
    const std::vector<int> regions = regions_of(mesh, mesh_part);
    if (regions.empty()) return;
    const auto found =
        case_.steels.find(mesh.regions[static_cast<std::size_t>(regions[0])].material);
    if (found == case_.steels.end()) return;  // ideal iron loses nothing
    const SteelInUse& steel = found->second;
    PartLoss& into = part(name);
    if (steel.material.thickness > 0.0)
      add_sheets(regions, steel, into);
    else
      add_solid(regions, steel, mesh.regions[static_cast<std::size_t>(regions[0])].index < 0, into);
  }

  void add_sheets(const std::vector<int>& regions, const SteelInUse& steel, PartLoss& into) {
    const bool cut = member_ == Member::modulator;
    const IronLoss loss = iron_loss(history_,
                                    {regions, steel.material, steel.stacking_factor,
                                     cut ? case_.service.build.cutting_factor : 1.0},
                                    speed_);
    into.loss.hysteresis += loss.hysteresis * length_;
    into.loss.eddy += loss.classical * length_;
    into.loss.surface += loss.excess * length_;
    map_.add(loss.density);
    if (loss.source == HysteresisSource::unknown)
      into.cautions.push_back(steel.grade +
                              ": neither losses nor coercivity are known; hysteresis "
                              "counts nothing here.");
    if (loss.thick)
      into.cautions.push_back(steel.grade +
                              ": its sheets are thicker than two skin depths at this "
                              "speed; the eddy loss is over-estimated.");
    if (loss.beyond_trust > 0.5)
      into.cautions.push_back(steel.grade +
                              ": most of the loss lies where the steel carries more "
                              "than its loss data are trusted for.");
  }

  void add_solid(const std::vector<int>& regions, const SteelInUse& steel, bool ring,
                 PartLoss& into) {
    if (!(steel.material.resistivity > 0.0)) {
      into.cautions.push_back(steel.grade +
                              ": its resistivity is not known; eddy currents count nothing here.");
      return;
    }
    SolidSteel solid{{}, steel.material};
    solid.conductor.regions = regions;
    solid.conductor.closed_ring = ring;
    solid.conductor.resistivity = steel.material.resistivity;
    solid.conductor.row_length = length_;
    const SolidSteelLoss loss = solid_steel_loss(history_, solid, speed_);
    into.loss.hysteresis += loss.hysteresis.hysteresis * length_;
    map_.add(loss.hysteresis.density);
    const EddyLoss& thin = loss.resistance_limited;
    const double eddy = loss.thick ? loss.saturating_plate.value_or(loss.linear_plate) : thin.loss;
    if (ring)
      map_.add_ring(regions, eddy);
    else if (thin.loss > 0.0)
      map_.add_bodies(thin, eddy / thin.loss);
    (loss.thick ? into.loss.surface : into.loss.eddy) += eddy * length_;
    if (!loss.thick) return;
    into.cautions.push_back(steel.grade +
                            " is solid and thicker than its skin depth: its eddy loss is an order "
                            "of magnitude, and it weakens the field that the torque was found in.");
  }

  void add_sleeves() {
    for (const Sleeve& sleeve : case_.gear.sleeves) {
      const auto material = case_.others.find(sleeve.material);
      if (material == case_.others.end() || !material->second.resistivity) continue;
      Conductor conductor;
      const MemberMesh& mesh = history_.member->mesh;
      for (const int region : regions_of(mesh, "sleeve"))
        if (mesh.regions[static_cast<std::size_t>(region)].material == sleeve.material &&
            lies_between(region, sleeve))
          conductor.regions.push_back(region);
      if (conductor.regions.empty()) continue;
      const std::string name = node_of(sleeve);
      conductor.closed_ring = true;
      conductor.resistivity =
          resistivity_at(*material->second.resistivity, material->second.resistivity_coefficient,
                         warm(temperatures_, name));
      conductor.row_length = length_;
      conductor.slip = slip_of(cycle_, sleeve.turns_with, member_);
      const EddyLoss loss = eddy_loss(history_, conductor, speed_);
      PartLoss& into = part(name);
      into.loss.eddy += loss.loss * length_;
      map_.add_ring(conductor.regions, loss.loss);
      if (loss.reaction > large_reaction)
        into.cautions.push_back(sleeve.material +
                                ": the currents in this sleeve weaken the field that drives them; "
                                "its loss is over-estimated.");
    }
  }

  bool lies_between(int region, const Sleeve& sleeve) const {
    const MemberMesh& mesh = history_.member->mesh;
    for (int t = 0; t < mesh.triangles.rows(); ++t) {
      if (mesh.region[static_cast<std::size_t>(t)] != region) continue;
      const double r = mesh.nodes.row(mesh.triangles(t, 3)).norm();
      return r > sleeve.inner_radius * (1 - 1e-6) && r < sleeve.outer_radius * (1 + 1e-6);
    }
    return false;
  }

  static std::string node_of(const Sleeve& sleeve) {
    switch (sleeve.turns_with) {
      case TurnsWith::sun:
        return "sun magnets";
      case TurnsWith::modulator:
        return "modulator";
      case TurnsWith::ring:
        return "ring magnets";
      case TurnsWith::housing:
        break;
    }
    return sleeve.gap == Gap::inner ? "inner wall" : "outer wall";
  }

  const Case& case_;
  double length_;
  const LossCycle& cycle_;
  const MemberHistory& history_;
  Member member_;
  double speed_;
  const PartTemperatures& temperatures_;
  std::vector<PartLoss>& into_;
  LossMap& map_;
};

}  // namespace

SolvedCycle solved_cycle(const CaseResult& gear, double load_angle, int threads, int per_period) {
  SolvedCycle solved;
  solved.solver = gear.solver;
  LossSampling sampling;
  sampling.per_period = per_period;
  solved.cycle = loss_cycle(gear.solver->problem(), gear.counts, gear.input.running->held,
                            load_angle, sampling);
  SweepOptions options;
  options.threads = threads;
  options.keep = KeepPotentials::every;
  solved.solutions = sweep_curve(*gear.solver, solved.cycle.positions, options);
  solved.converged = std::all_of(solved.solutions.begin(), solved.solutions.end(),
                                 [](const FieldSolution& s) { return s.summary.converged; });
  if (solved.converged)
    solved.histories = member_histories(gear.solver->problem(), solved.cycle, solved.solutions);
  return solved;
}

double torque_per_pole_pair(const CaseResult& gear, const SolvedCycle& solved) {
  double sum = 0.0;
  for (const FieldSolution& s : solved.solutions) sum += s.torque_modulator;
  return std::abs(sum) / static_cast<double>(solved.solutions.size()) * gear.stack_length /
         gear.counts.pole_pieces;
}

std::vector<PartLoss> losses_by_part(const CaseResult& gear, const SolvedCycle& solved,
                                     double phase_speed, const PartTemperatures& temperatures,
                                     TriangleNumbers* density) {
  std::vector<PartLoss> losses;
  for (const MemberHistory& history : solved.histories) {
    LossMap map(history);
    MemberLosses(gear, solved, history, phase_speed, temperatures, losses, map).gather();
    if (density) density->push_back(map.density());
  }
  return losses;
}

std::optional<SolidPoles> solid_poles(const CaseResult& gear, const SolvedCycle& solved,
                                      double phase_speed, const Steel& plain) {
  for (const MemberHistory& history : solved.histories) {
    const std::vector<int> regions = regions_of(history.member->mesh, "pole piece");
    if (regions.empty()) continue;
    SolidSteel solid{{}, plain};
    solid.conductor.regions = regions;
    solid.conductor.resistivity = plain.resistivity;
    solid.conductor.row_length = gear.stack_length;
    const SolidSteelLoss loss = solid_steel_loss(history, solid, phase_speed);
    SolidPoles poles;
    const double hysteresis = loss.hysteresis.hysteresis * gear.stack_length;
    poles.solid_bound = hysteresis + loss.resistance_limited.loss * gear.stack_length;
    poles.solid_estimate =
        hysteresis + (loss.thick ? loss.saturating_plate.value_or(loss.linear_plate)
                                 : loss.resistance_limited.loss) *
                         gear.stack_length;
    poles.skin_depth = loss.skin_depth;
    poles.thick = loss.thick;
    return poles;
  }
  return std::nullopt;
}

}  // namespace lodegear
