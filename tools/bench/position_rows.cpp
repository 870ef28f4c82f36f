// tools/bench/position_rows.cpp — CPU time of one position in a sweep, cold and warm.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "cases/run_case.h"
#include "solver/motion/sweep.h"
#include "tools/bench/gears.h"
#include "tools/bench/reference.h"
#include "tools/bench/rows.h"

namespace lodegear::bench {

namespace {

struct Measured {
  std::vector<double> meshes, condensing, cold, warm, sweep;  // CPU s, one a repeat
  std::vector<PerMember> torques;                             // along the curve
};

Measured measured(const Case& c, const SetUp& prepared, const std::vector<Position>& curve,
                  const Setting& setting) {
  const bool quick = setting.quick;
  Measured m;
  const std::size_t n_cold = quick ? 4 : 12;
  for (std::size_t i = 0; i < n_cold; ++i)  // spread over the curve
    m.cold.push_back(cost_of([&] {
                       (void)torques(prepared.solver->solve(curve[i * curve.size() / n_cold]));
                     }).cpu);
  SolverState state;
  for (const Position& position : curve) {
    FieldSolution solution;
    const Cost cost = cost_of([&] { solution = prepared.solver->solve(position, state); });
    m.torques.push_back(torques(solution));
    if (&position != &curve.front()) m.warm.push_back(cost.cpu);
  }
  for (int i = 0; i < (quick ? 1 : 3); ++i)
    m.sweep.push_back(cost_of([&] { (void)sweep_curve(*prepared.solver, curve); }).cpu /
                      static_cast<double>(curve.size()));
  for (int i = 0; i < (quick ? 1 : 3); ++i) {
    const SetUp again = set_up(c, prepared.plan.resolution, setting.path.options);
    m.meshes.push_back(again.meshes.cpu);
    m.condensing.push_back(again.condensing.cpu);
  }
  return m;
}

/// Slip torque from the positions, and the largest error at one of them.
void add_errors(const std::string& gear, const std::vector<Position>& curve, const Case& c,
                const std::vector<PerMember>& torques, Record& record) {
  const Reference reference(gear);
  double worst = 0.0;
  for (std::size_t i = 0; i < curve.size(); ++i)
    worst = std::max(worst, reference.error(torques[i], load_angle(pole_counts(c.gear), curve[i])));
  record.position_error = worst;
  record.slip_error = reference.slip_error(peaks(curves_of(torques)));
}

std::vector<Record> position_records(const std::string& gear, Accuracy accuracy,
                                     const Setting& setting) {
  const Case c = bench_case(gear);
  const bool linear = gear == "standard_linear";
  const SetUp prepared = set_up(c, resolution_for(gear, c.gear, accuracy), setting.path.options);
  const std::vector<Position> curve = slip_curve_positions(c, setting.quick ? 24 : 48);
  const Measured m = measured(c, prepared, curve, setting);

  Record record;
  record.gear = gear;
  record.path = setting.path.name;
  record.settings = text_of(prepared.plan);
  record.unknowns = prepared.solver->n_unknowns();
  record.unit = "CPU s";
  if (!linear) add_errors(gear, curve, c, m.torques, record);
  std::vector<Record> records;
  const auto add = [&](const std::string& row, const std::vector<double>& values,
                       const std::string& note) {
    Record one = record;
    one.row = row + " at " + name_of(accuracy);
    one.values = values;
    one.note = note;
    records.push_back(one);
  };
  add("mesh", m.meshes, "once a gear");
  add("set-up", m.condensing, "once a gear; without the mesh");
  if (linear) {
    add("position of linear steel", m.warm, "accuracy is that of the gear with real steel");
    return records;
  }
  const std::string step = setting.quick ? "15° el. from the last" : "7.5° el. from the last";
  add("position cold", m.cold, "from zero");
  add("position warm", m.warm, step);
  add("position in a sweep", m.sweep, "mean of a slip curve; a cold start every twelve");
  return records;
}

}  // namespace

std::vector<Row> position_rows() {
  std::vector<Row> rows;
  const auto add = [&rows](const std::string& gear, Accuracy accuracy, bool in_quick) {
    const std::string at = accuracy == Accuracy::tenth_per_cent ? "/0.1" : "/0.25";
    rows.push_back({"position/" + gear + at, in_quick, true, [=](const Setting& setting) {
                      return position_records(gear, accuracy, setting);
                    }});
  };
  for (Accuracy accuracy : {Accuracy::quarter_per_cent, Accuracy::tenth_per_cent}) {
    add("standard", accuracy, true);
    add("standard_exponential", accuracy, accuracy == Accuracy::tenth_per_cent);
    add("vat_stirrer", accuracy, false);
  }
  add("standard_linear", Accuracy::tenth_per_cent, true);
  return rows;
}

}  // namespace lodegear::bench
