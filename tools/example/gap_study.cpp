// tools/example/gap_study.cpp — slip torque of a case against the width of its outer gap.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <cstdio>

#include "cases/read_case.h"
#include "cases/run_case.h"
#include "materials/input_error.h"
#include "mesh/check_gear.h"

int main(int argc, char** argv) try {
  using namespace lodegear;
  if (argc != 2) {
    std::puts("usage: gap_study CASE.toml (a gear whose ring magnets are arcs)");
    return 2;
  }
  Case c = read_case(argv[1]);
  c.running.reset();         // the slip curve is enough
  c.accuracy.part = 2.5e-3;  // of the slip torque
  std::puts("wider by [mm]  slip torque on the modulator [N·m], plane model");
  for (int i = 0; i < 4; ++i) {
    const CaseResult result = run_case(c);
    if (result.slip_torque)
      std::printf("%13.1f  %.2f\n", 0.2 * i, of(result.slip_torque->peak, Member::modulator));
    c.gear.modulator->outer_radius -= 0.2e-3;  // m; the pole pieces become thinner
  }
  return 0;
} catch (const lodegear::InputError& error) {
  std::fprintf(stderr, "%s\n", error.what());
  return 2;
}
