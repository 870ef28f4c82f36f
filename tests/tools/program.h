// tests/tools/program.h — running the program as a person would.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <sys/types.h>

#include <filesystem>
#include <string>

namespace lodegear {

struct Outcome {
  int exit_code = -1;
  std::string out, err;
};

/// Runs `lodegear <arguments>` through the shell, in a plain locale.
Outcome program(const std::string& arguments);
/// The same after "sh -c"-style preparations, as "ulimit -v 1; "; "lodegear" stands for the
/// program.
Outcome shell(const std::string& command);

/// The program at a study, quiet, on two threads, in a process of its own.
pid_t started_study(const std::string& file, const std::string& out);

/// A folder for one test, removed with its owner.
class Scratch {
 public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  /// A path in it, as text for a command line.
  std::string operator/(const std::string& name) const { return (path_ / name).string(); }
  /// Writes a file there and returns its path.
  std::string file(const std::string& name, const std::string& text) const;
  /// How many files and folders lie in it, at any depth.
  int n_entries() const;

 private:
  std::filesystem::path path_;
};

std::string text_of_file(const std::string& path);

}  // namespace lodegear
