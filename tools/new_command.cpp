// tools/new_command.cpp — `lodegear new`: a commented case file to start from.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <map>
#include <memory>

#include "cases/new_case.h"
#include "cases/staged_files.h"
#include "cases/write_error.h"
#include "materials/catalogue.h"
#include "tools/commands.h"
#include "tools/exit_codes.h"

namespace lodegear {

namespace {

struct NewRequest {
  NewCaseOptions options;
  std::filesystem::path out;
};

constexpr const char* help =
    R"(Writes a case file with a comment on every line that a beginner would ask about: rectangular stock
blocks on both rotors, as many side by side as fit, with radii that follow from the blocks. Change
in it what you like. A gear p_s/n/p_r has n = p_s + p_r pole pieces; with the ring held it turns
n/p_s times slower, with the modulator held p_r/p_s times and the other way round.

Example, a gear 4/23/19 from blocks of 10 x 5 mm, 40 mm long:
  lodegear new --sun 4 --ring 19 --width 10 --thickness 5 --length 40 --out my_gear.toml)";

/// Complaints in the words of the command line.
InputError in_options(const InputError& error) {
  static const std::map<std::string, std::string> option_of = {
      {"sun_pole_pairs", "--sun"},
      {"ring_pole_pairs", "--ring"},
      {"block_width_mm", "--width"},
      {"block_thickness_mm", "--thickness"},
      {"stack_length_mm", "--length"},
      {"gap_mm", "--gap"},
      {"clearance_mm", "--clearance"},
      {"modulator_inner_radius_mm", "--modulator-inner"},
      {"modulator_outer_radius_mm", "--modulator-outer"}};
  std::vector<Complaint> complaints = error.complaints();
  for (Complaint& complaint : complaints) {
    const auto found = option_of.find(complaint.key);
    if (found != option_of.end()) complaint.key = found->second;
  }
  return InputError(std::move(complaints));
}

void check_materials(const NewCaseOptions& options) {
  const Catalogue catalogue;
  std::vector<Complaint> all;
  const auto check = [&](MaterialKind kind, const std::string& name, const char* option) {
    if (const auto fault = catalogue.why_not(kind, name)) all.push_back({{}, option, *fault});
  };
  check(MaterialKind::magnet, options.grade, "--grade");
  check(MaterialKind::steel, options.sheet, "--sheet");
  check(MaterialKind::steel, options.steel, "--steel");
  if (!all.empty()) throw InputError(std::move(all));
}

int run(const NewRequest& request) try {
  check_materials(request.options);
  const std::string text = new_case_text(request.options);
  if (request.out.empty()) {
    std::cout << text;
    return exit_good;
  }
  if (std::filesystem::exists(request.out))
    throw WriteError(request.out, "exists and is left as it is. Choose another name.");
  write_whole_file(request.out, text);
  std::cout << "Written to " << request.out.string() << ". Next: lodegear sweep "
            << request.out.string() << " --out RESULTS\n";
  return exit_good;
} catch (const InputError& error) {
  throw in_options(error);
}

}  // namespace

Command add_new(CLI::App& app) {
  const auto request = std::make_shared<NewRequest>();
  NewCaseOptions& o = request->options;
  CLI::App* command = app.add_subcommand("new", "A commented case file to start from");
  command->footer(help);
  const auto number = [command](const std::string& name, auto& value, const char* what,
                                const char* unit) {
    command->add_option(name, value, what)->capture_default_str()->type_name(unit);
  };
  number("--sun", o.sun_pole_pairs, "Pole pairs of the sun, the inner rotor", "N");
  number("--ring", o.ring_pole_pairs, "Pole pairs of the ring, the outer rotor", "N");
  number("--width", o.block_width_mm, "Width of a block, along the circle", "MM");
  number("--thickness", o.block_thickness_mm, "Thickness of a block, the way it is magnetised",
         "MM");
  number("--length", o.stack_length_mm, "Length of the gear along its axis", "MM");
  number("--gap", o.gap_mm, "Air gap, the same inside and outside the pole pieces", "MM");
  number("--clearance", o.clearance_mm, "Around a block, for glue and plating", "MM");
  command
      ->add_option("--modulator-inner", o.modulator_inner_radius_mm,
                   "Inner radius of the pole pieces; else as the blocks want it")
      ->type_name("MM");
  command
      ->add_option("--modulator-outer", o.modulator_outer_radius_mm,
                   "Outer radius of the pole pieces; else as the blocks want it")
      ->type_name("MM");
  number("--grade", o.grade, "Magnet grade", "NAME");
  number("--sheet", o.sheet, "Sheet of the pole pieces", "NAME");
  number("--steel", o.steel, "Steel of hub and back iron", "NAME");
  number("--name", o.name, "What the case is called in the results", "TEXT");
  command->add_option("-o,--out", request->out, "File to write, never overwritten; else the screen")
      ->type_name("FILE");
  return [request] { return run(*request); };
}

}  // namespace lodegear
