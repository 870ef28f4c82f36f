// tools/validate_command.cpp — `lodegear validate`: may this gear be built?
// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <memory>

#include "case_options.h"
#include "cases/validate_case.h"
#include "cases/validation_text.h"
#include "cases/write_result.h"
#include "commands.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr const char* help = R"(
Computes what decides whether a gear may be built, judges it against [require] in the case file and
says what would help: torque expected on the bench (with the ends of the stack), losses and
efficiency, temperatures, what the magnets bear, what glue and bearings must hold, clearance.
How it is built and used stands in [use], [build] and [[bearing]]: cases/service.h lists the keys.

Example:
  lodegear validate my_gear.toml --out my_gear

With --out it also writes
  validation.json     every figure with unit and origin, the verdict, cautions
  efficiency_map.csv, temperatures.csv (over time), magnet_margin.csv (every triangle of every
  magnet), loss_density.csv (every triangle that loses), stack_length.csv,
  slip_in_time.csv, small_changes.csv

Exit codes: 0 all is met, 1 something is not, 2 the input is wrong, 3 a position has no solution, 5
not sure, 130 stopped by Ctrl-C.)";

struct ValidateRequest {
  CaseOptions options;
  std::filesystem::path out;
  bool force = false;
};

int run(const ValidateRequest& request) {
  const Catalogue catalogue = catalogue_with(request.options.materials);
  const Case c = case_of(request.options, catalogue);
  const bool writes = !request.out.empty();
  if (writes) check_result_folder(request.out, c, request.force);
  Validation validation;
  with_progress(request.options,
                [&](const RunOptions& run) { validation = validate_case(c, catalogue, run); });
  std::vector<std::string> names;
  if (writes) names = write_validation(validation, request.out, request.force);
  std::cout << validation_text(validation);
  if (writes)
    std::cout << "\nWritten to " << request.out.string() << ": " << listed(names, " and ") << "\n";
  return exit_code(validation);
}

}  // namespace

Command add_validate(CLI::App& app) {
  const auto request = std::make_shared<ValidateRequest>();
  CLI::App* validate = app.add_subcommand("validate", "May this gear be built? A verdict, and why");
  validate->footer(help);
  add_case_options(*validate, request->options);
  validate
      ->add_option("-o,--out", request->out,
                   "Folder for the figures and tables; that of the same case's sweep will do")
      ->type_name("DIR");
  validate->add_flag("--force", request->force, "Write even if the folder holds something else");
  return [request] { return run(*request); };
}

}  // namespace lodegear
