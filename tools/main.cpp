// tools/main.cpp — the command line: choosing a command, and telling what went wrong.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <map>
#include <new>

#include "cases/versions.h"
#include "cases/write_error.h"
#include "commands.h"
#include "exit_codes.h"
#include "materials/input_error.h"
#include "stop_signal.h"
#include "suggestions.h"

namespace lodegear {

namespace {

constexpr const char* about =
    "lodegear computes the torque of magnetic gears p_s/n/p_r: a sun with p_s pole pairs, n steel\n"
    "pole pieces, a ring with p_r pole pairs, from a case file in plain text. The field is "
    "computed\n"
    "in the plane of the cross-section (2D), so short stacks deliver less than is printed.";

constexpr const char* first_steps = R"(First steps:
  lodegear choose --ratio 6.2 --diameter 120 --length 40   which pole counts?
  lodegear new --sun 4 --ring 13 --out my_gear.toml   a commented case to start from
  lodegear sweep my_gear.toml --out my_gear           torque curves into the folder my_gear
  lodegear validate my_gear.toml --out my_gear        may it be built? a verdict, and why
  lodegear report my_gear                             a page to read of all that
  lodegear probe my_gear.toml --radius 30             flux density on a circle of 30 mm radius
  lodegear study my_study.toml --out my_study         many designs of a case; goes on where it was
  lodegear draw my_gear.toml --out my_drawings        drawings and lists for the workshop
  lodegear materials                                  magnets and steels known by name

'lodegear COMMAND --help' tells more about a command.)";

std::string version_text() {
  std::string text = "lodegear " + lodegear_version() + "\n";
  for (const auto& [name, version] : library_versions()) text += "  " + name + " " + version + "\n";
  return text + "  CLI11 " CLI11_VERSION "\n";
}

/// Reads the command line; an exit code if there is nothing more to do.
std::optional<int> parsed(CLI::App& app, int argc, char** argv) {
  const std::vector<std::string> words(argv + 1, argv + argc);
  if (words.empty()) {
    std::cerr << app.help();
    return exit_input;
  }
  if (const auto complaint = mistyped(app, words)) {
    std::cerr << "lodegear: " << *complaint << "\n";
    return exit_input;
  }
  try {
    app.parse(argc, argv);
    return std::nullopt;
  } catch (const CLI::CallForVersion&) {
    std::cout << version_text();
    return exit_good;
  } catch (const CLI::Success& success) {  // --help
    app.exit(success);
    return exit_good;
  } catch (const CLI::ParseError& error) {
    std::cerr << "lodegear: " << error.what() << "\n"
              << "'lodegear" << chosen_name(app) << " --help' shows how it is meant.\n";
    return exit_input;
  }
}

int run(int argc, char** argv) {
  CLI::App app(about, "lodegear");
  app.footer(first_steps);
  app.require_subcommand(1);
  app.get_formatter()->column_width(34);
  app.set_version_flag("--version", lodegear_version(), "Version of the program and its libraries");
  const std::map<std::string, Command> commands = {
      {"sweep", add_sweep(app)},         {"validate", add_validate(app)}, {"probe", add_probe(app)},
      {"picture", add_picture(app)},     {"report", add_report(app)},     {"new", add_new(app)},
      {"materials", add_materials(app)}, {"choose", add_choose(app)},     {"study", add_study(app)},
      {"status", add_status(app)},       {"merge", add_merge(app)},       {"draw", add_draw(app)}};
  if (const auto done = parsed(app, argc, argv)) return *done;
  return commands.at(app.get_subcommands().front()->get_name())();
}

}  // namespace

}  // namespace lodegear

int main(int argc, char** argv) {
  using namespace lodegear;
  try {
    const int exit_code = run(argc, argv);
    std::cout.flush();
    if (std::cout) return exit_code;
    std::cerr << "The text for the screen cannot be written.\n";
    return exit_cannot_write;
  } catch (const InputError& error) {
    for (const Complaint& complaint : error.complaints()) std::cerr << to_string(complaint) << "\n";
    std::cerr << (error.complaints().size() == 1
                      ? "1 mistake"
                      : std::to_string(error.complaints().size()) + " mistakes")
              << "; nothing was computed or written.\n";
    return exit_input;
  } catch (const WriteError& error) {
    std::cerr << error.what() << "\n";
    return exit_cannot_write;
  } catch (const Stopped&) {
    std::cerr << "Stopped; nothing was written.\n";
    return exit_stopped;
  } catch (const std::bad_alloc&) {
    std::cerr << "Not enough memory for this case. A smaller mesh.fineness needs less.\n";
    return exit_not_solved;
  } catch (const std::exception& error) {
    std::cerr << "The computation failed and nothing was written: " << error.what() << "\n";
    return exit_not_solved;
  } catch (...) {
    std::cerr << "The computation failed for an unknown reason and nothing was written.\n";
    return exit_not_solved;
  }
}
