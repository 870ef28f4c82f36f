// tools/bench/reference.cpp — reading, comparing with and renewing the refined solutions.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/bench/reference.h"

#include <cmath>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cases/text_table.h"
#include "materials/constants.h"
#include "solver/motion/sweep.h"
#include "tools/bench/gears.h"
#include "tools/bench/solving.h"

namespace lodegear::bench {

namespace {

using nlohmann::json;

constexpr const char* file = LODEGEAR_SOURCE_DIR "/tools/bench/references.json";
constexpr std::array members = {Member::sun, Member::modulator, Member::ring};

std::string key_of(Member m) { return std::string("torque_") + lodegear::name_of(m) + "_Nm_per_m"; }

// Finer than the default mesh, which is itself within 0.001 % of a mesh twice as fine (README); the
// orders K are those chosen by default, some three times as many as the accuracies here need.
constexpr double refined_fineness = 1.25;

std::vector<double> rounded(std::vector<double> values) {
  for (double& value : values) value = std::round(value * 1e5) * 1e-5;  // 1e-8 of slip torque
  return values;
}

/// The path that takes fewest liberties tells what is right.
SolverOptions robust_options() {
  for (const NamedPath& path : paths())
    if (path.name == "reference") return path.options;
  throw std::logic_error("there is no reference path");
}

/// Torques at n even positions. Every member is symmetric about +x, so turning the sun backwards
/// turns all torques round: half of the curve is solved, and one position more to see that it is
/// so.
std::vector<PerMember> whole_curve(const Case& c, const FieldSolver& solver, int n, int threads) {
  std::vector<Position> positions = slip_curve_positions(c, n);
  const Position mirrored = positions[static_cast<std::size_t>(n - 3)];
  positions.resize(static_cast<std::size_t>(n) / 2 + 1);
  positions.push_back(mirrored);
  SweepOptions options;
  options.threads = threads;
  std::vector<PerMember> all;
  for (const FieldSolution& s : sweep_curve(solver, positions, options)) all.push_back(torques(s));
  const PerMember check = all.back();
  all.pop_back();
  for (std::size_t i = all.size() - 1; i-- > 1;)
    all.push_back({-all[i][0], -all[i][1], -all[i][2]});
  const PerMember same = all[static_cast<std::size_t>(n - 3)];
  // The meshes are not mirrored, so the two differ by their error: a tenth of the finest accuracy
  // that is measured, and part of a torque near half of slip torque.
  for (std::size_t m = 0; m < check.size(); ++m) {
    const double difference = std::abs(check[m] / same[m] - 1);
    if (difference > 1e-4)
      throw std::runtime_error("the slip curve is not symmetric: " + significant(difference, 2));
  }
  return all;
}

json reference_of(const Case& c, int samples, int threads) {
  const SetUp prepared = set_up(c, {refined_fineness, 0, 0}, robust_options());
  json result{{"settings", text_of(prepared.plan)},
              {"unknowns", prepared.solver->n_unknowns()},
              {"samples_per_period", samples}};
  const std::vector<PerMember> all = whole_curve(c, *prepared.solver, samples, threads);
  for (Member m : members) {
    std::vector<double> values;
    for (const PerMember& t : all) values.push_back(of(t, m));
    result[key_of(m)] = rounded(values);
  }
  return result;
}

}  // namespace

PerMember peaks(const std::array<PeriodicCurve, 3>& curves) {
  PerMember peak{};
  for (std::size_t m = 0; m < peak.size(); ++m)
    peak[m] = std::max(maximum(curves[m]).value, -minimum(curves[m]).value);
  return peak;
}

std::array<PeriodicCurve, 3> curves_of(const std::vector<PerMember>& torques) {
  const auto curve = [&torques](std::size_t m) {
    std::vector<double> samples;
    for (const PerMember& t : torques) samples.push_back(t[m]);
    return PeriodicCurve(samples);
  };
  return {curve(0), curve(1), curve(2)};
}

Reference::Reference(const std::string& gear) {
  std::ifstream stream(file);
  const json all = json::parse(stream);
  if (!all["gears"].contains(gear))
    throw std::runtime_error("there is no reference for " + gear + " in references.json");
  for (Member m : members) {
    curves_.emplace_back(all["gears"][gear][key_of(m)].get<std::vector<double>>());
    of(slip_, m) = std::max(maximum(curves_.back()).value, -minimum(curves_.back()).value);
  }
}

double Reference::torque(Member m, double load_angle) const {
  return curves_[static_cast<std::size_t>(m)].at(load_angle / (2 * pi));
}

double Reference::error(const PerMember& torques, double load_angle) const {
  double worst = 0.0;
  for (Member m : members)
    worst = std::max(worst, std::abs(of(torques, m) - torque(m, load_angle)) / of(slip_, m));
  return worst;
}

double Reference::error(const std::array<PeriodicCurve, 3>& curves) const {
  constexpr int looks = 720;
  double worst = 0.0;
  for (int i = 0; i < looks; ++i) {
    const double t = static_cast<double>(i) / looks;
    worst = std::max(worst, error({curves[0].at(t), curves[1].at(t), curves[2].at(t)}, 2 * pi * t));
  }
  return worst;
}

double Reference::slip_error(const PerMember& slip_torque) const {
  double worst = 0.0;
  for (Member m : members) worst = std::max(worst, std::abs(of(slip_torque, m) / of(slip_, m) - 1));
  return worst;
}

void write_references(int threads) {
  json all{
      {"origin",
       "computed with this program: build-bench/lodegear_bench --write-references; "
       "fineness 1.25 and the orders chosen by default; half of each curve is solved, the rest "
       "mirrored"},
      {"positions",
       "even steps of the sun through one electrical period, the others at rest; torque on "
       "the named member"}};
  for (const char* gear : {"standard", "standard_exponential", "vat_stirrer"}) {
    std::cerr << gear << std::endl;
    all["gears"][gear] = reference_of(bench_case(gear), 48, threads);
  }
  std::ofstream(file) << all.dump(1) << "\n";
}

}  // namespace lodegear::bench
