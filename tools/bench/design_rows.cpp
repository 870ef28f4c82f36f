// tools/bench/design_rows.cpp — whole tasks: a slip curve, a new design, many designs.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <atomic>
#include <mutex>
#include <thread>

#include "cases/kept_parts.h"
#include "cases/text_table.h"
#include "mesh/mesh_plan.h"
#include "solver/motion/sweep.h"
#include "tools/bench/gears.h"
#include "tools/bench/reference.h"
#include "tools/bench/rows.h"

namespace lodegear::bench {

namespace {

// The trigonometric polynomial through so many positions, one block of a sweep, keeps 0.1 % of slip
// torque; the row measures that at 720 load angles.
constexpr int curve_positions = 12;

Record started(const std::string& row, const std::string& gear, const Setting& setting,
               const SetUp& prepared) {
  Record record;
  record.row = row;
  record.gear = gear;
  record.path = setting.path.name;
  record.settings = text_of(prepared.plan);
  record.unknowns = prepared.solver->n_unknowns();
  record.unit = "CPU s";
  return record;
}

std::vector<Record> slip_curve_records(const std::string& gear, const Setting& setting) {
  const Case c = bench_case(gear);
  std::vector<double> seconds;
  std::optional<std::array<PeriodicCurve, 3>> curves;
  SetUp prepared;
  for (int i = 0; i < (setting.quick ? 1 : 5); ++i)
    seconds.push_back(cost_of([&] {
                        prepared = set_up(c, resolution_for(gear, c.gear, Accuracy::tenth_per_cent),
                                          setting.path.options);
                        std::vector<PerMember> all;
                        for (const FieldSolution& s : sweep_curve(
                                 *prepared.solver, slip_curve_positions(c, curve_positions)))
                          all.push_back(torques(s));
                        curves = curves_of(all);
                      }).cpu);
  Record record = started("slip curve at 0.1 %", gear, setting, prepared);
  record.values = seconds;
  const Reference reference(gear);
  record.slip_error = reference.slip_error(peaks(*curves));
  record.position_error = reference.error(*curves);
  record.note = "mesh to interpolated curve; " + std::to_string(curve_positions) +
                " positions; errors at 720 load angles";
  return {record};
}

std::vector<Record> new_design_records(const std::string& gear, const Setting& setting) {
  const Case c = bench_case(gear);
  std::vector<double> seconds;
  PerMember slip{};
  SetUp prepared;
  for (int i = 0; i < (setting.quick ? 3 : 9); ++i)
    seconds.push_back(cost_of([&] {
                        prepared =
                            set_up(c, resolution_for(gear, c.gear, Accuracy::quarter_per_cent),
                                   setting.path.options);
                        slip = slip_torque_of_three(c, *prepared.solver);
                      }).cpu);
  Record record = started("new design at 0.25 %", gear, setting, prepared);
  record.values = seconds;
  record.slip_error = Reference(gear).slip_error(slip);
  record.note = "mesh to slip torque; three positions";
  return {record};
}

/// Designs of which only the thickness of the ring differs from the one before.
std::vector<Record> next_design_records(const Setting& setting) {
  const std::string gear = "standard";
  Case c = bench_case(gear);
  KeptParts kept;
  std::vector<double> seconds;
  SetUp prepared;
  for (int i = 0; i < (setting.quick ? 4 : 10); ++i) {
    c.gear.ring->outer_radius += 1e-4;
    const Cost cost = cost_of([&] {
      prepared = set_up(c, resolution_for(gear, c.gear, Accuracy::quarter_per_cent),
                        setting.path.options, &kept);
      (void)slip_torque_of_three(c, *prepared.solver);
    });
    if (i > 0) seconds.push_back(cost.cpu);
  }
  Record record = started("next design at 0.25 %", gear, setting, prepared);
  record.values = seconds;
  record.note = "the same but for its ring; mesh to slip torque; three positions";
  return {record};
}

/// Slip torques of many designs, worked off by several threads.
class Scan {
 public:
  Scan(const Case& c, const SolverOptions& options, std::uint64_t seed, int n)
      : case_(c), options_(options), seed_(seed), slip_(static_cast<std::size_t>(n)) {}

  void run(int threads) {
    std::vector<std::jthread> others;
    for (int i = 1; i < threads; ++i) others.emplace_back([this] { work(); });
    work();
  }

  int failed() const { return failed_; }
  /// Size on the modulator of those that were solved, N·m per metre, rising.
  std::vector<double> slip_torques() const {
    std::vector<double> solved;
    for (double torque : slip_)
      if (torque > 0) solved.push_back(torque);
    std::sort(solved.begin(), solved.end());
    return solved;
  }

 private:
  void work() {
    for (std::size_t i = next_++; i < slip_.size(); i = next_++) {
      try {
        slip_[i] = slip_torque_of(static_cast<int>(i));
      } catch (const std::runtime_error&) {
        ++failed_;
      }
    }
  }

  double slip_torque_of(int number) {
    const Case c = varied_case(case_, seed_, number);
    const MeshPlan plan =
        mesh_plan(c.gear, resolution_for("standard", c.gear, Accuracy::quarter_per_cent));
    std::vector<MemberMesh> meshes;
    {
      const std::lock_guard one_mesh_at_a_time(meshing_);  // Gmsh has one session only
      meshes = meshes_of(c, plan);
    }
    const auto solver = solver_of(c, std::move(meshes), plan, options_);
    return of(slip_torque_of_three(c, *solver), Member::modulator);
  }

  const Case& case_;
  SolverOptions options_;
  std::uint64_t seed_;
  std::vector<double> slip_;  // 0 = not solved
  std::mutex meshing_;
  std::atomic<std::size_t> next_ = 0;
  std::atomic<int> failed_ = 0;
};

std::vector<Record> scan_records(const Setting& setting) {
  constexpr std::uint64_t seed = 20240229;
  const int n = setting.quick ? 24 : 1000;
  const Case c = bench_case("standard");
  Scan scan(c, setting.path.options, seed, n);
  const Cost cost = cost_of([&] { scan.run(2); });
  const std::vector<double> slip = scan.slip_torques();
  if (slip.empty()) throw std::runtime_error("no design of the scan was solved");

  Record record;
  record.row = "scan of " + std::to_string(n) + " designs at 0.25 %";
  record.gear = "standard";
  record.path = setting.path.name;
  record.settings = "two threads; seed " + std::to_string(seed);
  record.values = {cost.wall};
  record.unit = "wall s";
  record.note = std::to_string(scan.failed()) + " failed; slip torque on the modulator " +
                significant(slip.front(), 6) + " to " + significant(slip.back(), 6) +
                " N·m/m; meshes one at a time; CPU over wall time " +
                significant(cost.cpu / cost.wall, 2);
  Record each = record;
  each.row = "one design of the scan";
  each.values = {cost.cpu / n};
  each.unit = "CPU s";
  each.note = "mean";
  return {record, each};
}

}  // namespace

std::vector<Row> design_rows() {
  std::vector<Row> rows;
  for (const std::string gear : {"standard", "vat_stirrer"}) {
    const bool in_quick = gear == "standard";
    rows.push_back({"slip-curve/" + gear, in_quick, true,
                    [=](const Setting& setting) { return slip_curve_records(gear, setting); }});
    rows.push_back({"new-design/" + gear, in_quick, true,
                    [=](const Setting& setting) { return new_design_records(gear, setting); }});
  }
  rows.push_back({"next-design/standard", true, true, next_design_records});
  rows.push_back({"scan/standard", true, true, scan_records});
  return rows;
}

}  // namespace lodegear::bench
