// cases/validate_case.cpp — the story of a validation: field, ends, losses, heat, magnets, forces.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/validate_case.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "cases/effects_of_case.h"
#include "cases/ends_of_case.h"
#include "cases/heat_of_case.h"
#include "cases/judgements.h"
#include "cases/losses_of_case.h"
#include "cases/magnets_of_case.h"
#include "cases/members.h"
#include "cases/motion_of_case.h"
#include "cases/pulls_of_case.h"
#include "cases/thermal_of_case.h"
#include "cases/validation_cautions.h"
#include "materials/constants.h"
#include "materials/input_error.h"
#include "materials/words.h"
#include "mesh/ladder.h"
#include "mesh/member_limits.h"
#include "solver/post/iron_loss.h"

namespace lodegear {

namespace {

// Load angles at which losses are solved: none, half and nearly full load. (theory 12.4)
constexpr std::array<double, 3> solved_load_angles = {0.0, pi / 4, 0.42 * pi};
// Magnets are solved anew while they are this much warmer than in the last solution, K.
constexpr double warm_enough = 1.0;
constexpr int most_rounds = 4;
// Mesh (mesh/ladder.h) and samples of a period with which a first look tells how warm they become,
// and the samples with which losses are told: 64 change them by less than 0.5 %.
constexpr double level_ahead = 0.0;
constexpr int samples_ahead = 16, samples_of_losses = 32, rounds_ahead = 2;
// Ends and materials leave 5 % open at best: a finer mesh than this is waste.
constexpr double accuracy_of_validation = 5e-3;
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
  const auto input = ends_input(c);
  if (!input) return std::nullopt;
  return end_effect(*input);
}

class ValidationRun {
 public:
  ValidationRun(const Case& c, const Catalogue& catalogue, const RunOptions& options)
      : catalogue_(catalogue), options_(options) {
    options_.judging = !c.accuracy.asked;
    check_tasks(c);
    case_ = c;
    case_.running->load_angles = {0.0};  // cogging; the ripple at slip comes besides
    if (!case_.accuracy.asked && case_.accuracy.part) case_.accuracy.part = accuracy_of_validation;
    result_.drive = drive_of(c);
  }

  Validation run() {
    look_ahead();
    run_curves();
    bool warmed = false, settled = false;
    for (int round = 0; round < most_rounds; ++round) {
      solve_cycles();
      work_out_losses();
      work_out_temperatures();
      settled = !take_temperatures();
      if (settled) break;
      solve_again();
      warmed = true;
    }
    work_out_heat_over_time();
    if (warmed) run_curves_warm();
    if (!settled) solve_cycles();  // the last temperatures were not solved with yet
    result_.masses = active_masses(result_.gear);
    slip_solutions_ = solved_slip(result_.gear, options_.threads);
    result_.gear.kept.clear();
    result_.magnets = magnet_health(result_, cycles_.at(1), slip_solutions_);
    result_.torque_after_slip = torque_after_slip(result_, slip_solutions_, options_.threads);
    losses_by_part(result_.gear, cycles_.at(1), losses_.relative_speed, part_temperatures(),
                   &result_.loss_density);
    result_.loss_density_angle = solved_load_angles[1];
    work_out_pulls();
    work_out_ends();
    result_.clearances = clearances(result_);
    result_.motion = motion_figures(result_);
    work_out_slip();
    result_.outer_diameter = outer_diameter(case_.gear);
    for (const PartMass& part : result_.masses) result_.active_mass += part.count * part.one;
    result_.cautions = cautions_of(result_);
    result_.judgements = judgements(result_);
    work_out_effects();
    return std::move(result_);
  }

  /// Margin of one requirement about losses, heat or magnets, from a first look.
  double margin_ahead(const Judgement& asked, const Resolution& coarse) {
    prepare_look(coarse);
    if (asked.kind == Wanted::magnets)  // of a slip only, which is the worst
      result_.magnets = magnet_health(result_, {}, worst_of_slip(result_.gear, options_.threads));
    else
      look();
    for (const Judgement& j : judgements(result_))
      if (j.what == asked.what) return j.margin;
    throw std::runtime_error("it is not judged in a first look");
  }

 private:
  /// How warm the magnets become, from a coarse mesh, so that the fine one is solved once. Which
  /// temperatures are right in the end, the fine one tells.
  void look_ahead() {
    prepare_look(resolution_for(case_.gear, level_ahead, false));
    for (int round = 0; round < rounds_ahead; ++round) {
      look();
      if (!take_temperatures()) break;
      solve_again();
    }
    const Drive drive = result_.drive;
    result_ = {};
    result_.drive = drive;
    load_angles_.assign(solved_load_angles.begin(), solved_load_angles.end());
  }

  void prepare_look(const Resolution& coarse) {
    result_.gear = bare_result(case_, prepared_case(case_, coarse));
    result_.ends = ends_of(case_);
    load_angles_ = {solved_load_angles.front(), solved_load_angles.back()};
  }

  void look() {
    solve_cycles(samples_ahead);
    expect_torque_of_cycles();
    work_out_losses();
    work_out_temperatures();
  }

  /// As if the slip curve were a sine through the last load angle.
  void expect_torque_of_cycles() {
    SlipTorque& slip = result_.gear.slip_torque.emplace();
    const double peak =
        torque_per_pole_pair(result_.gear, cycles_.back()) / std::sin(load_angles_.back());
    of(slip.peak, result_.drive.output) =
        peak * std::abs(electrical_factor(result_.gear.counts, result_.drive.output));
    expect_torque();
  }

  /// Ripple costs far more than anything else here: it is followed only where it is judged.
  Case wanted_curves() const {
    Case c = case_;
    if (!c.service.require.cogging) c.running.reset();
    return c;
  }

  void run_curves() {
    result_.gear = run_case(wanted_curves(), options_);
    result_.gear.input.running = case_.running;
    if (!result_.gear.slip_torque)
      throw std::runtime_error("a position of the slip curve has no solution");
    result_.ends = ends_of(case_);
    expect_torque();
  }

  /// The same mesh and positions with the magnets as warm as they have become.
  void run_curves_warm() {
    const std::vector<Rung> rungs = result_.gear.rungs;
    const auto bar = result_.gear.slip_torque->error;
    case_.accuracy.part.reset();
    case_.resolution = result_.gear.plan.resolution;
    case_.slip->positions_per_period = result_.gear.input.slip->positions_per_period;
    const auto solver = result_.gear.solver;  // of the same problem, and the cycles are its
    run_curves();
    result_.gear.solver = solver;
    result_.gear.rungs = rungs;
    result_.gear.slip_torque->error = bar;
  }

  void solve_again() {
    const PreparedCase prepared = prepared_case(case_, result_.gear.plan.resolution);
    result_.gear.solver = prepared.solver;
    result_.gear.input.gear = case_.gear;
    result_.gear.input.magnets = case_.magnets;
  }

  void solve_cycles(int per_period = samples_of_losses) {
    cycles_.clear();
    for (const double angle : load_angles_) {
      cycles_.push_back(solved_cycle(result_.gear, angle, options_.threads, per_period));
      if (!cycles_.back().converged)
        throw std::runtime_error("a position that the losses need has no solution");
    }
  }

  double end_ratio() const {
    return result_.ends ? result_.ends->ratio : 0.5 * (ends_low + ends_high);
  }

  void expect_torque() {
    const double plane = plane_torque(result_);
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
    for (std::size_t i = 0; i < load_angles_.size(); ++i) {
      SolvedLoad load;
      load.load_angle = load_angles_[i];
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

  GearThermal thermal() const {
    GearThermal thermal = thermal_of(result_.gear, speeds_);
    if (result_.at_work) thermal.losses = part_losses(*result_.at_work);
    return thermal;
  }

  void work_out_temperatures() { result_.temperatures = gear_temperatures(thermal()); }

  /// What no round needs, once the last one is done.
  void work_out_heat_over_time() {
    const GearThermal thermal = this->thermal();
    result_.temperatures = gear_temperatures(thermal, heating_times(case_.service.use.bench_time));
    result_.duty = duty_of(case_, losses_, result_.drive, thermal);
    result_.slipping_heat =
        slipping_heat(losses_, result_.drive, case_.running->input_speed, thermal);
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

  void work_out_ends() {
    const auto input = ends_input(case_);
    if (!input) return;
    const double length = result_.gear.stack_length;
    result_.lengths = torque_against_length(*input, length, plane_torque(result_) / length);
    result_.axial_pulls = axial_pulls(*input, length);
  }

  void work_out_slip() {
    const double drag =
        std::abs(torque_on(result_.drive.output, friction_losses(losses_.friction, speeds_)));
    result_.slip = slip_in_time(result_, {result_.slipping_heat.rotor_loss, drag});
  }

  void work_out_effects() {
    const MarginAhead ahead = [this](const Case& c, const Judgement& asked,
                                     const Resolution& coarse) {
      RunOptions alone;
      ValidationRun run(c, catalogue_, alone);
      return run.margin_ahead(asked, coarse);
    };
    add_input_effects(result_, ahead, options_);
  }

  const Catalogue& catalogue_;
  RunOptions options_;
  Case case_;
  Validation result_;
  std::vector<double> load_angles_;  // of the cycles
  std::vector<SolvedCycle> cycles_;
  std::vector<FieldSolution> slip_solutions_;
  GearLosses losses_;
  MemberSpeeds speeds_;
};

}  // namespace

Validation validate_case(const Case& c, const Catalogue& catalogue, const RunOptions& options) {
  return ValidationRun(c, catalogue, options).run();
}

}  // namespace lodegear
