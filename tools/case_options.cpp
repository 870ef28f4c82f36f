// tools/case_options.cpp — what the commands that run a case have in common.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "case_options.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <iostream>
#include <thread>

#include "cases/accuracy.h"
#include "cases/read_case.h"
#include "commands.h"
#include "peak_memory.h"
#include "progress.h"
#include "stop_signal.h"

namespace lodegear {

Catalogue catalogue_with(const std::filesystem::path& own_folder) {
  return own_folder.empty() ? Catalogue() : Catalogue(own_folder);
}

void add_run_options(CLI::App& command, CaseOptions& into, const char* what_threads_do) {
  command.add_option("-t,--threads", into.threads, what_threads_do)
      ->check(between(1, 1024))
      ->type_name("N");
  command
      .add_option("--materials", into.materials,
                  "Folder with materials of your own (steels/, magnets/, others/)")
      ->type_name("DIR");
  command.add_flag("-q,--quiet", into.quiet, "No progress on stderr");
}

void add_case_options(CLI::App& command, CaseOptions& into) {
  command.add_option("CASE", into.case_file, "The case file")->required()->type_name(".toml");
  add_run_options(command, into, "Positions solved at the same time; else one a processor");
  command
      .add_option("-a,--accuracy", into.accuracy,
                  "Error of slip torque and ripple to be reached by refining, of the slip torque: "
                  "0.1%")
      ->type_name("PER CENT");
}

Case case_of(const CaseOptions& options, const Catalogue& catalogue) {
  Case c = read_case(options.case_file, catalogue);
  if (!options.accuracy.empty()) ask_accuracy(c, options.accuracy, "--accuracy");
  return c;
}

void with_progress(const CaseOptions& options, const std::function<void(const RunOptions&)>& work) {
  using Clock = std::chrono::steady_clock;
  watch_stop_signals();
  const Clock::time_point start = Clock::now();
  {
    Progress progress(Progress::style(options.quiet));
    RunOptions run;
    run.threads = options.threads > 0
                      ? options.threads
                      : std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
    run.progress = [&progress](const std::string& stage, int done, int total) {
      progress.show(stage, done, total);
      if (stop_asked()) throw Stopped();
    };
    work(run);
  }
  if (stop_asked()) throw Stopped();
  const double seconds = std::chrono::duration<double>(Clock::now() - start).count();
  const Progress::Style style = Progress::style(options.quiet);
  if (style == Progress::Style::none) return;
  if (style == Progress::Style::lines && seconds < 10) return;  // short work leaves none in a log
  std::cerr << "Computed in " << duration_text(seconds) << ", with at most "
            << std::lround(peak_memory()) << " MB of memory\n";
}

}  // namespace lodegear
