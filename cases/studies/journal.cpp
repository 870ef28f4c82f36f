// cases/studies/journal.cpp — a line for every finished block, brought to the disk before the next.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/journal.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>

#include "cases/write_error.h"

namespace lodegear {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

namespace {

constexpr const char* prefix = "journal";
constexpr const char* ending = ".jsonl";

// A journal open for adding.
class Appender {
 public:
  explicit Appender(const fs::path& path)
      : path_(path), fd_(open(path.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0666)) {
    if (fd_ < 0) fail();
  }
  ~Appender() { close(fd_); }
  Appender(const Appender&) = delete;

  /// In one write, so that a line is there or is not.
  void add(std::string text) {
    const off_t before = lseek(fd_, 0, SEEK_END);
    if (before > 0 && last_byte(before) != '\n') text = "\n" + text;  // a line that was cut off
    const ssize_t n = write(fd_, text.data(), text.size());
    if (n == static_cast<ssize_t>(text.size()) && fsync(fd_) == 0) return;
    const int reason = n < 0 || n == static_cast<ssize_t>(text.size()) ? errno : ENOSPC;
    if (ftruncate(fd_, before) != 0) errno = reason;
    errno = reason;
    fail();
  }

 private:
  char last_byte(off_t size) const {
    char last = '\n';
    return pread(fd_, &last, 1, size - 1) == 1 ? last : '\n';
  }
  [[noreturn]] void fail() const {
    throw WriteError(path_, std::string("cannot be written: ") + std::strerror(errno) + ".");
  }

  fs::path path_;
  int fd_;
};

std::optional<JournalLine> line_of(const std::string& text) {
  const Json json = Json::parse(text, nullptr, false);
  if (!json.is_object()) return std::nullopt;
  try {
    return JournalLine{json.at("block").get<std::string>(), json.at("sha256").get<std::string>(),
                       json.at("designs").get<int>(), json.at("seconds").get<double>(),
                       json.at("finished").get<std::int64_t>()};
  } catch (const Json::exception&) {
    return std::nullopt;
  }
}

std::vector<fs::path> journal_paths(const fs::path& folder) {
  std::vector<fs::path> paths;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder, error)) {
    const std::string name = entry.path().filename().string();
    if (name.starts_with(prefix) && name.ends_with(ending)) paths.push_back(entry.path());
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace

Journal::File Journal::first_free(const fs::path& folder, const std::string& stem) {
  for (int i = 1;; ++i) {
    const fs::path path = folder / (stem + (i > 1 ? "-" + std::to_string(i) : "") + ending);
    FolderLock lock(folder / ("." + path.filename().string() + ".lock"));
    if (lock.take_alone()) return {path, std::move(lock)};
  }
}

Journal::Journal(const fs::path& folder, const std::string& stem)
    : file_(first_free(folder, stem)) {}

void Journal::add(const JournalLine& line) {
  const Json json = {{"block", line.block},
                     {"sha256", line.sha256},
                     {"designs", line.designs},
                     {"seconds", line.seconds},
                     {"finished", line.finished}};
  Appender(file_.path).add(json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n");
}

Journals read_journals(const fs::path& folder) {
  Journals all;
  for (const fs::path& path : journal_paths(folder)) {
    std::ifstream file(path, std::ios::binary);
    int number = 0;
    for (std::string text; std::getline(file, text);) {
      ++number;
      const auto line = line_of(text);
      if (line && !file.eof())
        all.lines.push_back(*line);
      else
        all.broken.push_back(path.filename().string() + ", line " + std::to_string(number));
    }
  }
  return all;
}

}  // namespace lodegear
