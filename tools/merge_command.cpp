// tools/merge_command.cpp — `lodegear merge`: the results of a study whose shards are done.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>

#include "cases/studies/run_study.h"
#include "cases/studies/study_results.h"
#include "cases/studies/study_summary.h"
#include "commands.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr const char* help =
    R"(Writes study.csv, study.h5 and study_summary.json from the blocks that the shards of a study have
finished, and prints what it comes to. If blocks are missing it says so and writes nothing. The same
blocks give the same bytes, whoever computed them, so it may be run again.

Example:
  lodegear merge my_study

Exit codes: 0 good, 2 blocks are missing or there is no study, 3 no design has a solution, 4 cannot
write, 5 no design keeps the limits.)";

int run(const std::filesystem::path& folder) {
  const auto tell = [](const std::string& sentence) { std::cerr << sentence << "\n"; };
  const std::vector<std::string> written = merge_study(folder, tell);
  const StudyTable table = study_table(folder, study_in_folder(folder));
  std::cout << study_summary_text(table) << "\nWritten to " << folder.string() << ": "
            << listed(written, " and ") << "\n";
  return study_exit_code(table);
}

}  // namespace

Command add_merge(CLI::App& app) {
  const auto folder = std::make_shared<std::filesystem::path>();
  CLI::App* merge = app.add_subcommand("merge", "Results of a study whose shards are done");
  merge->footer(help);
  merge->add_option("DIR", *folder, "The study's folder")->required()->type_name("");
  return [folder] { return run(*folder); };
}

}  // namespace lodegear
