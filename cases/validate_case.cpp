// cases/validate_case.cpp — the story of a validation: field, ends, losses, heat, magnets, forces.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/validate_case.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cases/judgements.h"
#include "cases/losses_of_case.h"
#include "cases/magnets_of_case.h"
#include "cases/members.h"
#include "cases/pulls_of_case.h"
#include "cases/thermal_of_case.h"
#include "materials/constants.h"
#include "materials/input_error.h"
#include "solver/post/iron_loss.h"

namespace lodegear {

namespace {

// Load angles at which losses are solved: none, half and nearly full load. (theory 12.4)
constexpr double solved_load_angles[] = {0.0, pi / 4, 0.42 * pi};
// Magnets are solved anew while they are this much warmer than in the last solution, K.
constexpr double warm_enough = 1.0;
constexpr int most_rounds = 4;
// What the plane model does not know of a gear built from catalogue values, two standard
// deviations: remanence 2.5 % twice over, gaps 3 %, steel 2 % (engineering judgement, no source).
constexpr double catalogue_spread = 0.10;
// Where no estimate of the ends fits: short stacks deliver 60 to 90 % (from memory).
constexpr double ends_low = 0.6, ends_high = 0.95;

void check_tasks(const Case& c) {
  if (c.gear.sun && c.gear.modulator && c.gear.ring && c.slip && c.running) return;
  throw InputError({{{},
                     "",
                     "only a gear with [sun], [modulator] and [ring] whose slip and running "
                     "are computed can be validated."}});
}

std::optional<EndEffect> ends_of(const Case& c) {
  const auto strength = [&](const std::string& label) {
    const MagnetInUse& magnet = c.magnets.at(label);
    return MagnetStrength{remanence(magnet.material, magnet.temperature), magnet.material.mu_rec};
  };
  const auto input =
      end_effect_input(c.gear, strength(c.gear.sun->magnet), strength(c.gear.ring->magnet));
  if (!input) return std::nullopt;
  return end_effect(*input);
}

class ValidationRun {
 public:
  ValidationRun(const Case& c, const Catalogue& catalogue, const RunOptions& options)
      : catalogue_(catalogue), options_(options) {
    check_tasks(c);
    case_ = c;
    case_.running->load_angles = {0.0};  // cogging; the ripple at slip comes besides
    result_.drive = drive_of(c);
  }

  Validation run() {
    for (int round = 0; round < most_rounds; ++round) {
      solve_gear();
      work_out_losses();
      work_out_temperatures();
      if (!take_temperatures()) break;
    }
    result_.magnets = magnet_health(result_, cycles_.at(1), options_.threads, slip_solutions_);
    result_.torque_after_slip = torque_after_slip(result_, slip_solutions_, options_.threads);
    work_out_pulls();
    result_.clearances = clearances(result_);
    result_.outer_diameter = outer_diameter(case_.gear);
    for (const PartMass& part : active_masses(result_.gear))
      result_.active_mass += part.count * part.one;
    gather_cautions();
    result_.judgements = judgements(result_);
    return std::move(result_);
  }

 private:
  void solve_gear() {
    result_.gear = run_case(case_, options_);
    if (!result_.gear.slip_torque || !result_.gear.slip_torque->mean)
      throw std::runtime_error("a position of the slip or running curve has no solution");
    if (!result_.ends) result_.ends = ends_of(case_);
    expect_torque();
    cycles_.clear();
    for (const double angle : solved_load_angles) {
      cycles_.push_back(solved_cycle(result_.gear, angle, options_.threads));
      if (!cycles_.back().converged)
        throw std::runtime_error("a position that the losses need has no solution");
    }
  }

  double end_ratio() const {
    return result_.ends ? result_.ends->ratio : 0.5 * (ends_low + ends_high);
  }

  void expect_torque() {
    const double plane = of(*result_.gear.slip_torque->weakest, result_.drive.output);
    const double low = result_.ends ? result_.ends->low : ends_low;
    const double high = result_.ends ? result_.ends->high : ends_high;
    const double down = std::hypot((end_ratio() - low) / end_ratio(), catalogue_spread);
    const double up = std::hypot((high - end_ratio()) / end_ratio(), catalogue_spread);
    const double expected = plane * end_ratio();
    result_.slip_torque = {expected, expected * (1 - down), expected * (1 + up)};
    result_.load = case_.service.use.load.value_or(0.6 * expected);
  }

  PartTemperatures part_temperatures() const {
    PartTemperatures all;
    for (std::size_t i = 0; i < result_.temperatures.names.size(); ++i)
      all[result_.temperatures.names[i]] =
          result_.temperatures.steady[static_cast<Eigen::Index>(i)];
    return all;
  }

  void work_out_losses() {
    const double input_speed = case_.running->input_speed;
    speeds_ = speeds_in_step(result_.gear.counts, result_.drive, input_speed);
    losses_ = {};
    losses_.counts = result_.gear.counts;
    losses_.relative_speed = relative_speed(speeds_);
    losses_.friction = friction_of(result_.gear, result_.drive);
    for (std::size_t i = 0; i < cycles_.size(); ++i) {
      SolvedLoad load;
      load.load_angle = solved_load_angles[i];
      load.torque_per_pole_pair =
          i == 0 ? 0.0 : torque_per_pole_pair(result_.gear, cycles_[i]) * end_ratio();
      const std::vector<PartLoss> parts =
          losses_by_part(result_.gear, cycles_[i], losses_.relative_speed, part_temperatures());
      for (const PartLoss& part : parts) load.losses.push_back(part.loss);
      losses_.loads.push_back(std::move(load));
      if (i == 1) result_.losses = parts;  // for their cautions
    }
    work_out_drive(input_speed);
  }

  void work_out_drive(double input_speed) {
    result_.at_work = operating_point(losses_, result_.drive, input_speed, result_.load);
    result_.no_load = no_load_drag(losses_, result_.drive, input_speed);
    std::vector<double> speeds, loads;
    for (int i = 1; i <= 8; ++i) speeds.push_back(input_speed * i / 4.0);
    for (int i = 0; i <= 8; ++i) loads.push_back(result_.slip_torque.expected * i / 10.0);
    result_.map = efficiency_map(losses_, result_.drive, speeds, loads);
    if (!result_.at_work) return;
    for (PartLoss& part : result_.losses)
      for (const MagneticLoss& at_load : result_.at_work->magnetic)
        if (at_load.part == part.loss.part) part.loss = at_load;
  }

  void work_out_temperatures() {
    GearThermal thermal = thermal_of(result_.gear, speeds_);
    if (result_.at_work) thermal.losses = part_losses(*result_.at_work);
    result_.temperatures = gear_temperatures(thermal, {case_.service.use.bench_time});
    result_.highest_speed.reset();
    if (result_.at_work)
      result_.highest_speed = highest_continuous_speed(
          losses_, result_.drive, result_.load, thermal, 4 * std::abs(case_.running->input_speed));
  }

  /// Puts the magnets' temperatures into the case. False if they are about right already.
  bool take_temperatures() {
    bool changed = false;
    for (const Member m : {Member::sun, Member::ring}) {
      MagnetRotor& rotor = m == Member::sun ? *case_.gear.sun : *case_.gear.ring;
      const double celsius = result_.temperatures.of(std::string(name_of(m)) + " magnets");
      MagnetInUse magnet = case_.magnets.at(rotor.magnet);
      if (!std::isfinite(celsius) || std::abs(celsius - magnet.temperature) < warm_enough) continue;
      // Each rotor gets a label of its own: both may have been of one grade at one temperature.
      magnet.temperature = std::min(celsius, 250.0);
      const std::string label = std::string(name_of(m)) + " magnets, warm";
      case_.magnets[label] = magnet;
      rotor.magnet = label;
      changed = true;
    }
    return changed;
  }

  void work_out_pulls() {
    result_.solid_poles =
        solid_poles(result_.gear, cycles_.at(1), losses_.relative_speed, catalogue_.steel("S235"));
    if (result_.solid_poles)
      for (const PartLoss& part : result_.losses)
        if (part.loss.part == "modulator") result_.solid_poles->as_built = part.loss.total();
    result_.pulls = part_pulls(result_, slip_solutions_, speeds_);
    result_.side_pulls = side_pulls(result_, cycles_.at(1));
  }

  void gather_cautions() {
    for (const PartLoss& part : result_.losses)
      for (const std::string& caution : part.cautions)
        result_.cautions.push_back(part.loss.part + ": " + caution);
    if (case_.service.build.bearings.empty()) result_.cautions.emplace_back(assumed_bearings);
    if (!result_.ends)
      result_.cautions.emplace_back(
          "No estimate of the end effect fits this gear; 60 to 95 % of the plane torque was "
          "taken.");
    const auto& g = *case_.gear.modulator;
    const WrongStacking wrong = wrong_stacking(
        case_.service.build.sheets_stacked, g.stacking_factor, g.outer_radius - g.inner_radius,
        pi * (g.inner_radius + g.outer_radius) / (2 * g.pole_pieces));
    if (!wrong.caution.empty()) result_.cautions.push_back(wrong.caution);
  }

  const Catalogue& catalogue_;
  const RunOptions& options_;
  Case case_;
  Validation result_;
  std::vector<SolvedCycle> cycles_;  // by solved_load_angles
  std::vector<FieldSolution> slip_solutions_;
  GearLosses losses_;
  MemberSpeeds speeds_;
};

}  // namespace

Validation validate_case(const Case& c, const Catalogue& catalogue, const RunOptions& options) {
  return ValidationRun(c, catalogue, options).run();
}

}  // namespace lodegear
