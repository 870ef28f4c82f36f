// tools/case_options.h — what the commands that run a case have in common.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <functional>
#include <string>

#include "cases/case.h"
#include "cases/run_case.h"
#include "commands.h"
#include "materials/catalogue.h"

namespace lodegear {

/// The built-in materials, with those of a folder of one's own where one is named.
Catalogue catalogue_with(const std::filesystem::path& own_folder);

/// A case and how to run it, as the command line gives them.
struct CaseOptions {
  std::filesystem::path case_file, materials;
  std::string accuracy;
  int threads = 0;  ///< 0 = as many as there are processors
  bool quiet = false;
};
/// Adds CASE and the options; `into` must live as long as the command.
void add_case_options(CLI::App& command, CaseOptions& into);

/// Those of them that any long work has: --threads, --materials, --quiet.
void add_run_options(CLI::App& command, CaseOptions& into, const char* what_threads_do);

/// Reads the case and applies --accuracy. Throws InputError.
Case case_of(const CaseOptions& options, const Catalogue& catalogue);

/// Calls `work` with the threads asked for and with progress on stderr, which is gone afterwards;
/// throws Stopped once Ctrl-C was pressed.
void with_progress(const CaseOptions& options, const std::function<void(const RunOptions&)>& work);

}  // namespace lodegear
