// tools/sweep_command.cpp — `lodegear sweep`: a case from file to results.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>

#include "cases/accuracy.h"
#include "cases/figures.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "cases/summary_text.h"
#include "cases/write_result.h"
#include "commands.h"
#include "materials/words.h"
#include "progress.h"
#include "stop_signal.h"

namespace lodegear {

namespace {

struct SweepRequest {
  std::filesystem::path case_file, out, materials;
  std::string accuracy;
  int threads = 0;  // 0 = as many as there are processors
  bool force = false, quiet = false;
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
  const Catalogue catalogue =
      request.materials.empty() ? Catalogue() : Catalogue(request.materials);
  Case c = read_case(request.case_file, catalogue);
  if (!request.accuracy.empty()) ask_accuracy(c, request.accuracy, "--accuracy");
  check_result_folder(request.out, c, request.force);

  watch_stop_signals();
  CaseResult result;
  {
    Progress progress(Progress::style(request.quiet));
    RunOptions options;
    options.threads = n_threads(request.threads);
    options.progress = [&progress](const std::string& stage, int done, int total) {
      progress.show(stage, done, total);
      if (stop_asked()) throw Stopped();
    };
    result = run_case(c, options);
  }
  if (stop_asked()) throw Stopped();
  const std::vector<std::string> names = write_result(result, request.out, request.force);
  std::cout << summary_text(result) << "\nWritten to " << request.out.string() << ": "
            << listed(names, " and ") << "\n";
  return verdict(result).exit_code;
}

}  // namespace

Command add_sweep(CLI::App& app) {
  const auto request = std::make_shared<SweepRequest>();
  CLI::App* sweep = app.add_subcommand("sweep", "Torque curves of a case, written to a folder");
  sweep->footer(help);
  sweep->add_option("CASE", request->case_file, "The case file")->required()->type_name(".toml");
  sweep->add_option("-o,--out", request->out, "Folder for the results; made if there is none")
      ->required()
      ->type_name("DIR");
  sweep
      ->add_option("-t,--threads", request->threads,
                   "Positions solved at the same time; else one a processor")
      ->check(between(1, 1024))
      ->type_name("N");
  sweep
      ->add_option("--materials", request->materials,
                   "Folder with materials of your own (steels/, magnets/, others/)")
      ->type_name("DIR");
  sweep
      ->add_option("-a,--accuracy", request->accuracy,
                   "Error of slip torque and ripple to be reached by refining, of the slip torque: "
                   "0.1%")
      ->type_name("PER CENT");
  sweep->add_flag("--force", request->force,
                  "Write even if the folder holds something else; files that are not ours stay");
  sweep->add_flag("-q,--quiet", request->quiet, "No progress on stderr");
  return [request] { return run(*request); };
}

}  // namespace lodegear
