// tools/validate_command.cpp — `lodegear validate`: may this gear be built?
// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <memory>

#include "cases/accuracy.h"
#include "cases/read_case.h"
#include "cases/validate_case.h"
#include "cases/validation_text.h"
#include "commands.h"
#include "progress.h"
#include "stop_signal.h"

namespace lodegear {

namespace {

struct ValidateRequest {
  std::filesystem::path case_file, materials;
  std::string accuracy;
  int threads = 0;  // 0 = as many as there are processors
  bool quiet = false;
};

constexpr const char* help = R"(
Computes what decides whether a gear may be built, judges it against [require] in the case file and
says what would help: torque expected on the bench (with the ends of the stack), losses and
efficiency, temperatures, what the magnets bear, what glue and bearings must hold, clearance.
How it is built and used stands in [use], [build] and [[bearing]]: cases/service.h lists the keys.

Example:
  lodegear validate my_gear.toml

Exit codes: 0 all is met, 1 something is not, 2 the input is wrong, 3 a position has no solution, 5
not sure, 130 stopped by Ctrl-C.)";

int run(const ValidateRequest& request) {
  const Catalogue catalogue =
      request.materials.empty() ? Catalogue() : Catalogue(request.materials);
  Case c = read_case(request.case_file, catalogue);
  if (!request.accuracy.empty()) ask_accuracy(c, request.accuracy, "--accuracy");
  watch_stop_signals();
  Validation validation;
  {
    Progress progress(Progress::style(request.quiet));
    RunOptions options;
    options.threads = n_threads(request.threads);
    options.progress = [&progress](const std::string& stage, int done, int total) {
      progress.show(stage, done, total);
      if (stop_asked()) throw Stopped();
    };
    validation = validate_case(c, catalogue, options);
  }
  std::cout << validation_text(validation);
  return exit_code(validation);
}

}  // namespace

Command add_validate(CLI::App& app) {
  const auto request = std::make_shared<ValidateRequest>();
  CLI::App* validate = app.add_subcommand("validate", "May this gear be built? A verdict, and why");
  validate->footer(help);
  validate->add_option("CASE", request->case_file, "The case file")->required()->type_name(".toml");
  validate
      ->add_option("--materials", request->materials,
                   "Folder with materials of your own (steels/, magnets/, others/)")
      ->type_name("DIR");
  validate
      ->add_option("-a,--accuracy", request->accuracy,
                   "Error of slip torque and ripple to be reached by refining: 0.1%")
      ->type_name("PER CENT");
  validate
      ->add_option("-t,--threads", request->threads,
                   "Positions solved at the same time; else one a processor")
      ->check(between(1, 1024))
      ->type_name("N");
  validate->add_flag("-q,--quiet", request->quiet, "No progress on stderr");
  return [request] { return run(*request); };
}

}  // namespace lodegear
