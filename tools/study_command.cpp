// tools/study_command.cpp — `lodegear study`: many designs of a case, and nothing finished is lost.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <charconv>
#include <filesystem>
#include <iostream>
#include <memory>
#include <new>
#include <thread>

#include "case_options.h"
#include "cases/studies/read_study.h"
#include "cases/studies/run_study.h"
#include "cases/studies/search/run_search.h"
#include "cases/studies/study_results.h"
#include "cases/studies/study_summary.h"
#include "cases/write_error.h"
#include "commands.h"
#include "exit_codes.h"
#include "materials/words.h"
#include "progress.h"
#include "stop_signal.h"

namespace lodegear {

namespace {

struct StudyRequest {
  std::filesystem::path study_file, materials, out;
  std::string shard;
  int threads = 0;
  bool quiet = false, force = false;
};

constexpr const char* help =
    R"(Reads a study: a base case, keys of it that vary, how (list, grid, Sobol, Latin hypercube,
random, or a search: optimise, trade-off) and which figures are wanted. cases/studies/study.h lists
the keys. Into the folder go
  study.csv           a design a line: what was varied, figures, and why a design failed
  study_summary.json  best designs, percentiles, which parameter matters
  study.h5            the same as study.csv for programs (HDF5)
  best.toml           of a search: the best as a case file; of a trade-off front.csv and design-*.toml
  blocks/, journal*   what is finished; kept, so that nothing is computed twice

Run the same command again after whatever happened: only what is missing is done, and the results
are the same to the last bit. Ctrl-C loses the designs in work, no finished block.

Several machines with a common folder share a study:
  lodegear study my_study.toml --out my_study --shard 3/8     this one takes every eighth block
  lodegear merge my_study                                     when all eight are done
tools/cluster has a job script for Slurm.

Exit codes: 0 good, 2 the input is wrong, 3 no design has a solution, 4 cannot write, 5 no design
keeps the limits, 130 stopped by Ctrl-C.)";

/// "3/8".
Shard shard_of(const std::string& text) {
  Shard shard;
  const char *begin = text.data(), *end = begin + text.size();
  const auto index = std::from_chars(begin, end, shard.index);
  const bool slash = index.ec == std::errc() && index.ptr != end && *index.ptr == '/';
  const auto of = slash ? std::from_chars(index.ptr + 1, end, shard.of) : index;
  if (!slash || of.ec != std::errc() || of.ptr != end || shard.of < 1 || shard.of > 100000 ||
      shard.index < 1 || shard.index > shard.of)
    throw InputError(
        {{{},
          "--shard",
          "is " + in_quotes(text) + "; which one and of how many is wanted, from 1/8 to 8/8."}});
  return shard;
}

std::string text_of_base(const std::filesystem::path& path) {
  (void)read_toml_file(path);  // tells in a sentence why it cannot be read
  return bytes_of_file(path);
}

void say_what_is_kept(const StudyOutcome& outcome, const StudyRequest& request) {
  std::cerr << "Stopped; " << outcome.blocks_done << " of " << outcome.blocks
            << " blocks are finished and kept in " << request.out.string()
            << ". The same command goes on from there.\n";
}

/// What `run` comes to, with a plan, a catalogue, a folder and options.
template <class Run>
auto with_progress(Run run, const StudyPlan& plan, const Catalogue& catalogue,
                   const StudyRequest& request) {
  watch_stop_signals();
  Progress progress(Progress::style(request.quiet));
  StudyOptions options;
  options.threads = request.threads > 0
                        ? request.threads
                        : std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  options.force = request.force;
  options.stop_asked = stop_asked;
  if (!request.shard.empty()) options.shard = shard_of(request.shard);
  options.tell = [&progress](const std::string& sentence) {
    progress.clear();
    std::cerr << sentence << "\n";
  };
  options.progress = [&progress, &plan](const StudyProgress& p) {
    progress.show((is_search(plan.study().how) ? "search" : "study") +
                      std::string(p.best.empty() ? "" : ", " + p.best) + " ",
                  p.done, p.total, p.found_done);
  };
  return run(plan, catalogue, request.out, options);
}

int search(const StudyPlan& plan, const Catalogue& catalogue, const StudyRequest& request) {
  const SearchOutcome outcome = with_progress(run_search, plan, catalogue, request);
  if (!outcome.finished) {
    std::cerr << "Stopped; what was solved is kept in " << request.out.string()
              << ". The same command goes on from there.\n";
    return exit_stopped;
  }
  std::cout << search_summary_text(outcome.table) << "\nWritten to " << request.out.string() << ": "
            << listed(outcome.written, " and ") << "\n";
  return study_exit_code(outcome.table.all);
}

int run(const StudyRequest& request) {
  if (request.out.empty()) throw InputError({{{}, "--out", "is empty; it must name a folder."}});
  if (!request.shard.empty()) (void)shard_of(request.shard);
  const Study study = read_study(request.study_file);
  const std::filesystem::path base = request.study_file.parent_path() / study.base_path;
  const Catalogue catalogue = catalogue_with(request.materials);
  const StudyPlan plan(study, text_of_base(base), base.string(), catalogue);
  StudyOutcome outcome;
  try {
    if (is_search(study.how)) return search(plan, catalogue, request);
    outcome = with_progress(run_study, plan, catalogue, request);
  } catch (const WriteError& error) {
    std::cerr << error.what() << "\nWhat was finished before is kept in " << request.out.string()
              << "; when the cause is gone, the same command goes on from there.\n";
    return exit_cannot_write;
  } catch (const std::bad_alloc&) {
    std::cerr << "Not enough memory; fewer --threads need less. What is finished is kept in "
              << request.out.string() << ".\n";
    return exit_not_solved;
  }
  if (!outcome.finished) {
    say_what_is_kept(outcome, request);
    return exit_stopped;
  }
  if (outcome.written.empty()) {
    std::cout << "Shard " << request.shard << " has finished its " << outcome.blocks
              << " blocks. When all shards have: lodegear merge " << request.out.string() << "\n";
    return exit_good;
  }
  const StudyTable table = study_table(request.out, study_in_folder(request.out));
  std::cout << study_summary_text(table) << "\nWritten to " << request.out.string() << ": "
            << listed(outcome.written, " and ") << "\n";
  return study_exit_code(table);
}

}  // namespace

Command add_study(CLI::App& app) {
  const auto request = std::make_shared<StudyRequest>();
  CLI::App* study =
      app.add_subcommand("study", "Many designs of a case; goes on where it was interrupted");
  study->footer(help);
  study->add_option("STUDY", request->study_file, "The study file")->required()->type_name(".toml");
  study->add_option("-o,--out", request->out, "Folder for the results; made if there is none")
      ->required()
      ->type_name("DIR");
  study
      ->add_option("-t,--threads", request->threads,
                   "Designs computed at the same time; else one a processor")
      ->check(between(1, 1024))
      ->type_name("N");
  study
      ->add_option("--shard", request->shard,
                   "Only this part of the blocks, for several processes or machines")
      ->type_name("I/N");
  study
      ->add_option("--materials", request->materials,
                   "Folder with materials of your own (steels/, magnets/, others/)")
      ->type_name("DIR");
  study->add_flag("--force", request->force,
                  "Use the folder even if it holds something else; files that are not ours stay");
  study->add_flag("-q,--quiet", request->quiet, "No progress on stderr");
  return [request] { return run(*request); };
}

}  // namespace lodegear
