// tools/suggestions.cpp — what was probably meant by a mistyped command or option.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "suggestions.h"

#include <cctype>

#include "materials/nearest_name.h"
#include "materials/words.h"

namespace lodegear {

namespace {

std::string did_you_mean(const std::string& word, const std::vector<std::string>& known) {
  const std::vector<std::string> near = nearest_names(word, known, 2);
  return near.empty() ? std::string() : " Did you mean " + listed(near, " or ") + "?";
}

std::vector<std::string> command_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands(nullptr)) names.push_back(command->get_name());
  return names;
}

/// "--out" and "-o" of every option.
std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  return names;
}

bool is_option(const std::string& word) {
  if (word.size() < 2 || word[0] != '-') return false;
  return word[1] == '-' ? word.size() > 2 : std::isalpha(static_cast<unsigned char>(word[1])) != 0;
}

const CLI::App* command_named(const CLI::App& app, const std::string& name) {
  for (const CLI::App* command : app.get_subcommands(nullptr))
    if (command->get_name() == name) return command;
  return nullptr;
}

std::optional<std::string> unknown_option(const CLI::App& command, const std::string& word) {
  const std::string name = word[1] == '-' ? word.substr(0, word.find('=')) : word.substr(0, 2);
  const std::vector<std::string> known = option_names(command);
  for (const std::string& one : known)
    if (one == name) return std::nullopt;
  std::vector<std::string> long_names;
  for (const std::string& one : known)
    if (one.size() > 2) long_names.push_back(one);
  const std::string where =
      command.get_name() == "lodegear" ? "lodegear" : "'" + command.get_name() + "'";
  return where + " has no option " + name + "." + did_you_mean(name, long_names);
}

}  // namespace

std::optional<std::string> mistyped(const CLI::App& app, const std::vector<std::string>& words) {
  const CLI::App* command = &app;
  for (const std::string& word : words) {
    if (word == "--") break;
    if (is_option(word)) {
      if (auto complaint = unknown_option(*command, word)) return complaint;
    } else if (command == &app) {
      const CLI::App* chosen = command_named(app, word);
      if (!chosen)
        return "there is no command " + in_quotes(word) + "." +
               did_you_mean(word, command_names(app)) + " Commands are " +
               listed(command_names(app), " and ") + ".";
      command = chosen;
    }
  }
  return std::nullopt;
}

std::string chosen_name(const CLI::App& app) {
  const auto chosen = app.get_subcommands();
  return chosen.empty() ? std::string() : " " + chosen.front()->get_name();
}

}  // namespace lodegear
