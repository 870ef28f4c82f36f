// cases/staged_files.cpp — temporary names, fsync, rename.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/staged_files.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>
#include <system_error>

#include "cases/write_error.h"

namespace lodegear {

namespace fs = std::filesystem;

namespace {

std::string reason() { return std::string("cannot be written: ") + std::strerror(errno) + "."; }

// A file descriptor that closes itself.
class Descriptor {
 public:
  Descriptor(const fs::path& path, int flags) : path_(path), fd_(open(path.c_str(), flags, 0666)) {
    if (fd_ < 0) throw WriteError(path_, reason());
  }
  ~Descriptor() {
    if (fd_ >= 0) close(fd_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;

  void write_all(std::string_view bytes) {
    while (!bytes.empty()) {
      const ssize_t n = write(fd_, bytes.data(), bytes.size());
      if (n < 0 && errno == EINTR) continue;
      if (n < 0) throw WriteError(path_, reason());
      bytes.remove_prefix(static_cast<std::size_t>(n));
    }
  }
  void sync() {
    if (fsync(fd_) != 0) throw WriteError(path_, reason());
  }
  /// Some file systems tell of a full disk only here.
  void close_now() {
    const int result = close(fd_);
    fd_ = -1;
    if (result != 0) throw WriteError(path_, reason());
  }

 private:
  fs::path path_;
  int fd_;
};

void write_and_sync(const fs::path& path, std::string_view bytes) {
  Descriptor file(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC);
  file.write_all(bytes);
  file.sync();
  file.close_now();
}

void rename_file(const fs::path& from, const fs::path& to) {
  std::error_code error;
  fs::rename(from, to, error);
  if (error) throw WriteError(to, "cannot be written: " + error.message() + ".");
}

/// The folders that would have to be made so that `folder` exists, outermost first.
std::vector<fs::path> missing_folders(fs::path folder) {
  std::vector<fs::path> missing;
  for (; !folder.empty() && !fs::exists(fs::symlink_status(folder));
       folder = folder.parent_path()) {
    missing.insert(missing.begin(), folder);
    if (folder == folder.parent_path()) break;
  }
  return missing;
}

fs::path without_trailing_slash(const fs::path& folder) {
  const fs::path full = fs::absolute(folder).lexically_normal();
  return full.has_filename() ? full : full.parent_path();
}

}  // namespace

StagedFiles::StagedFiles(const fs::path& folder, std::string mark)
    : folder_(without_trailing_slash(folder)), mark_(std::move(mark)) {
  for (const fs::path& path : missing_folders(folder_)) {
    std::error_code error;
    fs::create_directory(path, error);
    if (error) {
      for (auto made = made_folders_.rbegin(); made != made_folders_.rend(); ++made) {
        std::error_code ignored;
        fs::remove(*made, ignored);
      }
      throw WriteError(path, "the folder cannot be made: " + error.message() + ".");
    }
    made_folders_.push_back(path);
  }
  if (!fs::is_directory(folder_))
    throw WriteError(folder_, "is not a folder; results need a folder of their own.");
}

StagedFiles::~StagedFiles() {
  if (committed_) return;
  std::error_code ignored;
  for (const std::string& name : names_) fs::remove(temporary(name), ignored);
  for (auto made = made_folders_.rbegin(); made != made_folders_.rend(); ++made)
    fs::remove(*made, ignored);  // only if empty
}

fs::path StagedFiles::temporary(const std::string& name) const {
  return folder_ / ("." + name + (mark_.empty() ? "" : "." + mark_) + temporary_ending);
}

void StagedFiles::add(const std::string& name, std::string_view bytes) {
  names_.push_back(name);
  write_and_sync(temporary(name), bytes);
}

void StagedFiles::commit() {
  for (const std::string& name : names_) rename_file(temporary(name), folder_ / name);
  committed_ = true;
  std::error_code ignored;
  for (const std::string& name : obsolete_) fs::remove(folder_ / name, ignored);
  Descriptor(folder_, O_RDONLY | O_DIRECTORY | O_CLOEXEC).sync();
}

void write_whole_file(const fs::path& path, std::string_view bytes, const std::string& mark) {
  const fs::path full = fs::absolute(path).lexically_normal();
  if (!full.has_filename()) throw WriteError(path, "is a folder; a file name is wanted.");
  if (fs::is_directory(full)) throw WriteError(path, "is a folder; a file name is wanted.");
  StagedFiles files(full.parent_path(), mark);
  files.add(full.filename(), bytes);
  files.commit();
}

void check_writable(const fs::path& folder, const std::string& what) {
  fs::path nearest = fs::absolute(folder).lexically_normal();
  while (!fs::exists(nearest) && nearest != nearest.parent_path()) nearest = nearest.parent_path();
  if (!fs::is_directory(nearest))
    throw WriteError(nearest, "is not a folder; " + what + " need a folder of their own.");
  StagedFiles(nearest).add("write-test", "");
}

void check_new_file(const fs::path& path, bool replace) {
  if (!replace && fs::exists(path))
    throw WriteError(path, "exists. Choose another name, or give --force.");
}

std::string bytes_of_file(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace lodegear
