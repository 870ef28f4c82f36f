// tools/report/print_page.cpp — a page on paper, by a browser that is installed.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/print_page.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <string>
#include <system_error>
#include <vector>

#include "cases/write_error.h"

extern char** environ;

namespace lodegear {

namespace fs = std::filesystem;

namespace {

/// Exit code of a program in the search path, its output thrown away; −1 if it cannot be started.
int run(std::vector<std::string> words) {
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  for (const int stream : {STDOUT_FILENO, STDERR_FILENO})
    posix_spawn_file_actions_addopen(&actions, stream, "/dev/null", O_WRONLY, 0);
  pid_t child = 0;
  const int error =
      posix_spawnp(&child, arguments.front(), &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  int status = 0;
  if (error != 0 || waitpid(child, &status, 0) < 0 || !WIFEXITED(status)) return -1;
  return WEXITSTATUS(status);
}

/// A folder for the browser's own files, so that it touches nobody's profile.
class ProfileFolder {
 public:
  ProfileFolder() : path_((fs::temp_directory_path() / "lodegear-print-XXXXXX").string()) {
    if (!mkdtemp(path_.data())) throw WriteError(path_, "cannot be made.");
  }
  ~ProfileFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  ProfileFolder(const ProfileFolder&) = delete;
  ProfileFolder& operator=(const ProfileFolder&) = delete;
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

}  // namespace

void print_page(const fs::path& page, const fs::path& pdf) {
  const ProfileFolder profile;
  for (const char* browser : {"chromium", "chromium-browser"}) {
    std::vector<std::string> words = {browser,
                                      "--headless",
                                      "--disable-gpu",
                                      "--no-first-run",
                                      "--disable-background-networking",
                                      "--no-pdf-header-footer",
                                      "--user-data-dir=" + profile.path(),
                                      "--print-to-pdf=" + fs::absolute(pdf).string(),
                                      fs::absolute(page).string()};
    if (geteuid() == 0) words.insert(words.begin() + 1, "--no-sandbox");  // it refuses root else
    std::error_code ignored;
    fs::remove(pdf, ignored);
    if (run(words) == 0 && fs::exists(pdf)) return;
  }
  throw WriteError(pdf, "needs an installed Chromium; " + page.string() +
                            " is written and prints from any browser.");
}

}  // namespace lodegear
