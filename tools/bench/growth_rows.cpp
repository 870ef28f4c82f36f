// tools/bench/growth_rows.cpp — how the work grows with unknowns, positions and threads.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdexcept>

#include "cases/run_case.h"
#include "cases/text_table.h"
#include "materials/constants.h"
#include "solver/motion/positions.h"
#include "solver/motion/sweep.h"
#include "tools/bench/gears.h"
#include "tools/bench/rows.h"

namespace lodegear::bench {

namespace {

Record started(const std::string& row, const Setting& setting, const SetUp& prepared) {
  Record record;
  record.row = row;
  record.gear = "standard";
  record.path = setting.path.name;
  record.settings = text_of(prepared.plan);
  record.unknowns = prepared.solver->n_unknowns();
  record.unit = "CPU s";
  return record;
}

// The orders stay, only the meshes grow.
std::vector<Record> unknowns_records(double fineness, const Setting& setting) {
  constexpr int orders = 16;
  const Case c = bench_case("standard");
  const SetUp prepared = set_up(c, {fineness, orders, orders}, setting.path.options);
  const std::vector<Position> curve = slip_curve_positions(c, 48);
  std::vector<double> cold, warm;
  SolverState state;
  for (std::size_t i = 0; i < (setting.quick ? 2 : 5); ++i) {
    cold.push_back(
        cost_of([&] { (void)torques(prepared.solver->solve(curve[3 + 10 * i % 48])); }).cpu);
    if (i == 0) (void)prepared.solver->solve(curve[11], state);
    warm.push_back(
        cost_of([&] { (void)torques(prepared.solver->solve(curve[12 + i], state)); }).cpu);
  }
  const auto record = [&](const std::string& row, const std::vector<double>& values) {
    Record one = started(row, setting, prepared);
    one.values = values;
    one.note = significant(1e6 * median(values) / one.unknowns, 3) + " µs an unknown";
    return one;
  };
  return {record("growth: mesh", {prepared.meshes.cpu}),
          record("growth: set-up", {prepared.condensing.cpu}), record("growth: cold", cold),
          record("growth: warm", warm)};
}

std::vector<Record> positions_records(int n, const Setting& setting) {
  const Case c = bench_case("standard");
  const SetUp prepared = set_up(c, resolution_for("standard", c.gear, Accuracy::quarter_per_cent),
                                setting.path.options);
  const PoleCounts counts = pole_counts(c.gear);
  const double turn = 2 * pi * n / 136 / 12;  // twelve positions a ripple
  const auto positions = running_positions(counts, Member::ring, pi / 4, turn, n);
  Record record = started("growth: " + std::to_string(n) + " positions", setting, prepared);
  const Cost cost = cost_of([&] { (void)sweep_curve(*prepared.solver, positions); });
  record.values = {cost.cpu};
  record.note = significant(1e3 * cost.cpu / n, 3) + " ms a position";
  return {record};
}

bool same_bits(const std::vector<FieldSolution>& a, const std::vector<FieldSolution>& b) {
  for (std::size_t i = 0; i < a.size(); ++i)
    if (torques(a[i]) != torques(b[i])) return false;
  return a.size() == b.size();
}

std::vector<Record> threads_records(const Setting& setting) {
  const Case c = bench_case("standard");
  const SetUp prepared =
      set_up(c, resolution_for("standard", c.gear, Accuracy::tenth_per_cent), setting.path.options);
  const std::vector<Position> curve = slip_curve_positions(c, setting.quick ? 24 : 96);
  std::vector<FieldSolution> by_one, by_two;
  SweepOptions two;
  two.threads = 2;
  std::vector<double> one_thread, two_threads, cores;
  for (int i = 0; i < (setting.quick ? 1 : 3); ++i) {
    one_thread.push_back(cost_of([&] { by_one = sweep_curve(*prepared.solver, curve); }).wall);
    const Cost cost = cost_of([&] { by_two = sweep_curve(*prepared.solver, curve, two); });
    two_threads.push_back(cost.wall);
    cores.push_back(cost.cpu / cost.wall);
  }
  if (!same_bits(by_one, by_two)) throw std::runtime_error("two threads changed the torques");
  Record first = started("sweep by one thread", setting, prepared);
  first.unit = "wall s";
  first.values = one_thread;
  first.note = std::to_string(curve.size()) + " positions";
  Record second = first;
  second.row = "sweep by two threads";
  second.values = two_threads;
  second.note =
      "same bits; " + significant(median(one_thread) / median(two_threads), 3) + " times as fast";
  return {first, second};
}

}  // namespace

std::vector<Row> growth_rows() {
  struct Size {
    const char* name;
    double fineness;
    bool in_quick;
  };
  std::vector<Row> rows;
  // Below some 13 000 the corners and segments of this gear set the mesh, not its fineness.
  for (const Size& size : {Size{"13k", 0.5, true}, Size{"20k", 1.0, true}, Size{"40k", 1.5, true},
                           Size{"70k", 2.0, true}, Size{"140k", 3.0, false},
                           Size{"270k", 4.3, false}, Size{"400k", 5.3, false}})
    rows.push_back({std::string("unknowns/") + size.name, size.in_quick, true,
                    [fineness = size.fineness](const Setting& setting) {
                      return unknowns_records(fineness, setting);
                    }});
  for (const int n : {12, 48, 192, 768})
    rows.push_back({"positions/" + std::to_string(n), n <= 48, true,
                    [n](const Setting& setting) { return positions_records(n, setting); }});
  rows.push_back({"threads/standard", true, true, threads_records});
  return rows;
}

}  // namespace lodegear::bench
