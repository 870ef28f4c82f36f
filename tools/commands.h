// tools/commands.h — the commands of the program; each has a file of its own.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <CLI/CLI.hpp>
#include <functional>

namespace lodegear {

/// Runs a command whose options have been read; returns the exit code.
using Command = std::function<int()>;

/// Whole numbers from `least` to `most`, without a technical note in the help.
inline CLI::Validator between(int least, int most) {
  return CLI::Range(least, most).description("");
}

// Each adds its subcommand with options and help, and returns what to do when it was chosen.
Command add_sweep(CLI::App& app);
Command add_validate(CLI::App& app);
Command add_probe(CLI::App& app);
Command add_picture(CLI::App& app);
Command add_report(CLI::App& app);
Command add_choose(CLI::App& app);
Command add_draw(CLI::App& app);
Command add_new(CLI::App& app);
Command add_study(CLI::App& app);
Command add_status(CLI::App& app);
Command add_merge(CLI::App& app);
Command add_materials(CLI::App& app);

}  // namespace lodegear
