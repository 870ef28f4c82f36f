// cases/studies/folder_lock.h — one process at a time on a file, also across machines.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

namespace lodegear {

/// A lock on a small file that says who holds it. It goes with its owner, also when that is
/// killed, and is kept by file systems that are shared between machines (NFS) if they are told to
/// (man 2 fcntl).
class FolderLock {
 public:
  /// The file is made if there is none. Throws WriteError if that cannot be.
  explicit FolderLock(const std::filesystem::path& path);
  ~FolderLock();
  FolderLock(FolderLock&& other) noexcept;
  FolderLock(const FolderLock&) = delete;

  /// Alone or together with others who want it shared; false if others hold it otherwise. Replaces
  /// what was held. Holding it alone writes down who does.
  bool take_alone();
  bool take_shared();
  /// Who wrote the file last: "process 4711 on mill".
  std::string holder() const;

 private:
  bool take(short kind);
  std::filesystem::path path_;
  int fd_ = -1;
};

enum class LockState { free, shared, alone };
/// Whether someone holds the lock, without touching it; free if there is no such file.
LockState lock_state(const std::filesystem::path& path);

/// "process 4711 on mill": this one.
std::string this_process();

}  // namespace lodegear
