// tools/bench/ripple_rows.cpp — ripple that symmetry forbids, over a full cycle solved throughout.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "cases/run_case.h"
#include "materials/constants.h"
#include "solver/motion/positions.h"
#include "solver/motion/sweep.h"
#include "tools/bench/gears.h"
#include "tools/bench/reference.h"
#include "tools/bench/rows.h"

namespace lodegear::bench {

namespace {

// Of 4/17/13, LCM(2·4, 17) = 136 ripples a turn of the sun are allowed and their multiples; four
// positions in each, every one of the 544 solved for itself.
std::vector<Record> ripple_records(const Setting& setting) {
  const Case c = bench_case("standard");
  const PoleCounts counts = pole_counts(c.gear);
  const int allowed = ripples_per_turn(counts, mirror_poles(c.gear));
  const Resolution resolution = setting.quick
                                    ? Resolution{0.4, 32, 32}
                                    : resolution_for("standard", c.gear, Accuracy::tenth_per_cent);
  const SetUp prepared = set_up(c, resolution, setting.path.options);
  std::vector<PerMember> all;
  const int n = 4 * allowed;
  const Cost cost = cost_of([&] {
    for (const FieldSolution& s : sweep_curve(
             *prepared.solver, running_positions(counts, Member::modulator, pi / 2, 2 * pi, n)))
      all.push_back(torques(s));
  });
  double forbidden = 0.0;
  for (const PeriodicCurve& curve : curves_of(all))
    for (int k = 1; k <= curve.n_orders(); ++k)
      if (k % allowed != 0)
        forbidden = std::max(forbidden, curve.amplitude(k) / std::abs(curve.mean()));

  Record record;
  record.row = "forbidden ripple";
  record.gear = "standard";
  record.path = setting.path.name;
  record.settings = text_of(prepared.plan);
  record.unknowns = prepared.solver->n_unknowns();
  record.values = {1e6 * forbidden};
  record.unit = "ppm";
  record.note = "largest forbidden order of any member; part of its mean torque at load angle 90°";
  Record time = record;
  time.row = "full cycle of " + std::to_string(n) + " positions";
  time.values = {cost.cpu};
  time.unit = "CPU s";
  time.note = "no use of symmetry";
  return {record, time};
}

}  // namespace

std::vector<Row> ripple_rows() { return {{"ripple/standard", true, true, ripple_records}}; }

}  // namespace lodegear::bench
