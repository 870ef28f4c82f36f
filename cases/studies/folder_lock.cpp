// cases/studies/folder_lock.cpp — locks of open file descriptions.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/folder_lock.h"

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "cases/write_error.h"

namespace lodegear {

namespace {

struct flock whole_file(short kind) {
  struct flock lock {};
  lock.l_type = kind;
  lock.l_whence = SEEK_SET;
  return lock;
}

}  // namespace

std::string this_process() {
  std::array<char, 256> host{};
  if (gethostname(host.data(), host.size() - 1) != 0) host[0] = '?';
  return "process " + std::to_string(getpid()) + " on " + host.data();
}

FolderLock::FolderLock(const std::filesystem::path& path)
    : path_(path), fd_(open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666)) {
  if (fd_ < 0)
    throw WriteError(path, std::string("cannot be written: ") + std::strerror(errno) + ".");
}

FolderLock::~FolderLock() {
  if (fd_ >= 0) close(fd_);
}

FolderLock::FolderLock(FolderLock&& other) noexcept
    : path_(std::move(other.path_)), fd_(other.fd_) {
  other.fd_ = -1;
}

bool FolderLock::take(short kind) {
  struct flock lock = whole_file(kind);
  while (fcntl(fd_, F_OFD_SETLK, &lock) != 0) {
    if (errno == EINTR) continue;
    if (errno == EAGAIN || errno == EACCES) return false;
    throw WriteError(path_, std::string("cannot be locked: ") + std::strerror(errno) + ".");
  }
  return true;
}

bool FolderLock::take_alone() {
  if (!take(F_WRLCK)) return false;
  // Who it is helps a person only; a full disk must not stop the work here.
  const std::string who = this_process() + "\n";
  if (ftruncate(fd_, 0) == 0 && pwrite(fd_, who.data(), who.size(), 0) < 0) return true;
  return true;
}

bool FolderLock::take_shared() { return take(F_RDLCK); }

std::string FolderLock::holder() const {
  std::array<char, 300> text{};
  const ssize_t n = pread(fd_, text.data(), text.size() - 1, 0);
  const std::string who(text.data(), n > 0 ? static_cast<std::size_t>(n) : 0);
  return who.empty() ? "another process" : who.substr(0, who.find('\n'));
}

LockState lock_state(const std::filesystem::path& path) {
  const int fd = open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) return LockState::free;
  struct flock lock = whole_file(F_WRLCK);
  const int result = fcntl(fd, F_OFD_GETLK, &lock);
  close(fd);
  if (result != 0 || lock.l_type == F_UNLCK) return LockState::free;
  return lock.l_type == F_WRLCK ? LockState::alone : LockState::shared;
}

}  // namespace lodegear
