// tools/report_command.cpp — `lodegear report`: a page to read from results folders.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>

#include "case_options.h"
#include "cases/staged_files.h"
#include "commands.h"
#include "exit_codes.h"
#include "materials/input_error.h"
#include "tools/report/print_page.h"
#include "tools/report/report.h"

namespace lodegear {

namespace {

struct ReportRequest {
  std::vector<std::filesystem::path> folders;
  std::filesystem::path out, materials;
  ReportOptions options;
  bool pdf = false;
};

constexpr const char* help =
    R"(Reads what 'sweep' and 'validate' wrote into a folder and makes one page of it, report.html, that
needs no network: verdict, cross-section with its field, torque curves, losses, temperatures,
magnets, forces, clearances, inputs, cautions. The field is solved once more for the picture. With
several folders the gears stand side by side. Studies with tolerances of the same case are shown
with it, if they lie within or beside its folder or are named too.

Examples:
  lodegear report my_gear
  lodegear report my_gear --frames 24
  lodegear report first second --out both.html
  lodegear report my_gear my_tolerances)";

/// To all results of the same text of the case that have not found it by themselves.
void give_to_its_case(const ToleranceStudy& study, std::vector<Results>& all) {
  bool found = false;
  for (Results& results : all) {
    if (case_sha256(results) != study.case_sha256) continue;
    found = true;
    const bool there = std::any_of(
        results.tolerances.begin(), results.tolerances.end(),
        [&study](const ToleranceStudy& other) { return other.summary == study.summary; });
    if (!there) results.tolerances.push_back(study);
  }
  if (!found)
    throw InputError({{{},
                       study.name,
                       "is a study of another case, or of another text of it, than the results; "
                       "run it again with theirs."}});
}

int run(const ReportRequest& request) {
  const Catalogue catalogue = catalogue_with(request.materials);
  std::vector<Results> all;
  std::vector<ToleranceStudy> studies;
  for (const auto& folder : request.folders)
    if (is_study_folder(folder))
      studies.push_back(tolerance_study(folder));
    else
      all.push_back(read_results(folder));
  if (all.empty())
    throw InputError({{{},
                       "DIR",
                       "is a study; name the results folder of its base case as well, which "
                       "'lodegear sweep' writes."}});
  for (const ToleranceStudy& study : studies) give_to_its_case(study, all);
  const std::filesystem::path out =
      request.out.empty() ? all.front().folder / "report.html" : request.out;
  write_whole_file(out, report_html(all, catalogue, request.options));
  std::cout << "Written: " << out.string() << "\n";
  if (!request.pdf) return exit_good;
  std::filesystem::path printed = out;
  printed.replace_extension(".pdf");
  print_page(out, printed);
  std::cout << "Written: " << printed.string() << "\n";
  return exit_good;
}

}  // namespace

Command add_report(CLI::App& app) {
  const auto request = std::make_shared<ReportRequest>();
  CLI::App* report = app.add_subcommand("report", "A page to read, of one gear or several");
  report->footer(help);
  report->add_option("DIR", request->folders, "Results folders, and studies of them")
      ->required()
      ->type_name("DIR");
  report->add_option("--frames", request->options.frames, "Pictures of an animation that plays")
      ->check(between(0, 200))
      ->capture_default_str()
      ->type_name("N");
  report->add_flag("--pdf", request->pdf, "Print it to a PDF as well, by an installed Chromium");
  report->add_option("-t,--threads", request->options.threads, "For the pictures")
      ->check(between(1, 1024))
      ->capture_default_str()
      ->type_name("N");
  report->add_option("--materials", request->materials, "Folder with materials of your own")
      ->type_name("DIR");
  report
      ->add_option("-o,--out", request->out, "File to write; else report.html in the first results")
      ->type_name("FILE");
  return [request] { return run(*request); };
}

}  // namespace lodegear
