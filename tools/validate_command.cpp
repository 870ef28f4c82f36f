// tools/validate_command.cpp — `lodegear validate`: may this gear be built?
// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <memory>

#include "case_options.h"
#include "cases/validate_case.h"
#include "cases/validation_text.h"
#include "commands.h"

namespace lodegear {

namespace {

constexpr const char* help = R"(
Computes what decides whether a gear may be built, judges it against [require] in the case file and
says what would help: torque expected on the bench (with the ends of the stack), losses and
efficiency, temperatures, what the magnets bear, what glue and bearings must hold, clearance.
How it is built and used stands in [use], [build] and [[bearing]]: cases/service.h lists the keys.

Example:
  lodegear validate my_gear.toml

Exit codes: 0 all is met, 1 something is not, 2 the input is wrong, 3 a position has no solution, 5
not sure, 130 stopped by Ctrl-C.)";

int run(const CaseOptions& options) {
  const Catalogue catalogue = catalogue_with(options.materials);
  const Case c = case_of(options, catalogue);
  Validation validation;
  with_progress(options,
                [&](const RunOptions& run) { validation = validate_case(c, catalogue, run); });
  std::cout << validation_text(validation);
  return exit_code(validation);
}

}  // namespace

Command add_validate(CLI::App& app) {
  const auto options = std::make_shared<CaseOptions>();
  CLI::App* validate = app.add_subcommand("validate", "May this gear be built? A verdict, and why");
  validate->footer(help);
  add_case_options(*validate, *options);
  return [options] { return run(*options); };
}

}  // namespace lodegear
