// tools/sweep_command.cpp — `lodegear sweep`: a case from file to results.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>

#include "case_options.h"
#include "cases/figures.h"
#include "cases/run_case.h"
#include "cases/slip_chart.h"
#include "cases/summary_text.h"
#include "cases/write_result.h"
#include "commands.h"
#include "materials/words.h"

namespace lodegear {

namespace {

struct SweepRequest {
  CaseOptions options;
  std::filesystem::path out;
  bool force = false, plot = false;
};

constexpr const char* help =
    R"(Reads a case, computes its torque curves and writes them into a folder of their own:
  slip_curve.csv     torque on every member while one is turned and the others stand still
  running_curve.csv  torque while all turn in step: cogging and ripple
  summary.json       every figure with unit and origin, all that was assumed, cautions
  result.h5          meshes, positions, torques, fields (HDF5)
  case.toml          a copy of the input
and prints a summary. The same case may be run again into the same folder. Nothing is written until
all is computed, and then all files or none.

Example:
  lodegear new --sun 4 --ring 13 --out my_gear.toml
  lodegear sweep my_gear.toml --out my_gear
  lodegear sweep my_gear.toml --out my_gear --accuracy 0.02%

Exit codes: 0 good, 2 the input is wrong, 3 a position has no solution, 4 cannot write, 5 a figure is
not sure, 130 stopped by Ctrl-C.)";

int run(const SweepRequest& request) {
  if (request.out.empty()) throw InputError({{{}, "--out", "is empty; it must name a folder."}});
  const Case c = case_of(request.options, catalogue_with(request.options.materials));
  check_result_folder(request.out, c, request.force);

  CaseResult result;
  with_progress(request.options, [&](const RunOptions& options) { result = run_case(c, options); });
  const std::vector<std::string> names = write_result(result, request.out, request.force);
  std::cout << summary_text(result) << (request.plot ? "\n" + slip_curve_chart(result) : "")
            << "\nWritten to " << request.out.string() << ": " << listed(names, " and ") << "\n";
  return verdict(result).exit_code;
}

}  // namespace

Command add_sweep(CLI::App& app) {
  const auto request = std::make_shared<SweepRequest>();
  CLI::App* sweep = app.add_subcommand("sweep", "Torque curves of a case, written to a folder");
  sweep->footer(help);
  add_case_options(*sweep, request->options);
  sweep->add_option("-o,--out", request->out, "Folder for the results; made if there is none")
      ->required()
      ->type_name("DIR");
  sweep->add_flag("--plot", request->plot, "Draw the slip curve with letters as well");
  sweep->add_flag("--force", request->force,
                  "Write even if the folder holds something else; files that are not ours stay");
  return [request] { return run(*request); };
}

}  // namespace lodegear
