// tools/status_command.cpp — `lodegear status`: how far a study is, from another terminal.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>

#include "cases/studies/study_status.h"
#include "commands.h"
#include "progress.h"

namespace lodegear {

namespace {

constexpr const char* help =
    R"(Tells how far a study is, who works on it, how long it will take and which design is the best so
far. Reads only; it disturbs nobody who is at work, here or on another machine.

Example:
  lodegear status my_study

Exit codes: 0 the study is finished and its results are written, 2 there is no study, 5 not yet.)";

std::string next_step(const StudyStatus& status, const std::string& folder) {
  if (status.written) return "Finished; the results are in " + folder + ".";
  if (status.at_work) return status.shared ? "Shards are at work." : status.holder + " is at work.";
  if (status.blocks > 0 && status.blocks_done == status.blocks)
    return "All blocks are finished; 'lodegear merge " + folder + "' writes the results.";
  return "Nobody is at work; the study command goes on from here.";
}

int run(const std::filesystem::path& folder) {
  const StudyStatus status = study_status(folder);
  std::cout << progress_text(status.name, status.designs_done, status.designs, 0.0, true,
                             status.designs_done);
  if (status.at_work && status.seconds_left && status.designs_done < status.designs)
    std::cout << ", about " << duration_text(*status.seconds_left) << " left";
  std::cout << "\n  designs finished";
  if (status.blocks > 0)
    std::cout << ", in " << status.blocks_done << " of " << status.blocks << " blocks";
  if (status.failed > 0) std::cout << "; " << status.failed << " cannot be built or solved";
  std::cout << "\n";
  if (!status.best.empty()) std::cout << "  " << status.best << "\n";
  if (status.damaged > 0)
    std::cout << "  " << status.damaged
              << " finished blocks are missing or damaged on the disk; they will be done anew\n";
  for (const std::string& broken : status.broken)
    std::cout << "  " << broken << " cannot be read\n";
  std::cout << next_step(status, folder.string()) << "\n";
  return exit_code(status);
}

}  // namespace

Command add_status(CLI::App& app) {
  const auto folder = std::make_shared<std::filesystem::path>();
  CLI::App* status = app.add_subcommand("status", "How far a study is, from another terminal");
  status->footer(help);
  status->add_option("DIR", *folder, "The study's folder")->required()->type_name("");
  return [folder] { return run(*folder); };
}

}  // namespace lodegear
