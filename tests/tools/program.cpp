// tests/tools/program.cpp — running the program as a person would.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "program.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace lodegear {

Scratch::Scratch() {
  std::string name = (std::filesystem::temp_directory_path() / "lodegear-test-XXXXXX").string();
  if (!mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
  path_ = name;
}
Scratch::~Scratch() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string Scratch::file(const std::string& name, const std::string& text) const {
  std::ofstream(path_ / name, std::ios::binary) << text;
  return (path_ / name).string();
}

int Scratch::n_entries() const {
  int n = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::recursive_directory_iterator(path_))
    ++n;
  return n;
}

std::string text_of_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

Outcome shell(const std::string& command) {
  const Scratch scratch;
  const std::string script =
      "lodegear() { \"" LODEGEAR_PROGRAM "\" \"$@\"; }\nexport LC_ALL=C.UTF-8\n" + command + "\n";
  const std::string full = "sh '" + scratch.file("script", script) + "' > '" + (scratch / "out") +
                           "' 2> '" + (scratch / "err") + "'";
  const int status = std::system(full.c_str());
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, text_of_file(scratch / "out"),
          text_of_file(scratch / "err")};
}

Outcome program(const std::string& arguments) { return shell("lodegear " + arguments); }

pid_t started_study(const std::string& file, const std::string& out) {
  const pid_t pid = fork();
  if (pid == 0) {
    const int nowhere = open("/dev/null", O_WRONLY);
    dup2(nowhere, STDOUT_FILENO);
    dup2(nowhere, STDERR_FILENO);
    execl(LODEGEAR_PROGRAM, LODEGEAR_PROGRAM, "study", file.c_str(), "--out", out.c_str(), "-q",
          "--threads", "2", static_cast<char*>(nullptr));
    _exit(127);
  }
  return pid;
}

}  // namespace lodegear
