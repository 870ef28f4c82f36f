// cases/write_error.h — a file that could not be written, told with its path and the reason.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <stdexcept>
#include <string>

namespace lodegear {

/// Nothing half-written is left behind when this is thrown.
class WriteError : public std::runtime_error {
 public:
  WriteError(const std::filesystem::path& path, const std::string& reason)
      : std::runtime_error(path.string() + ": " + reason) {}
};

}  // namespace lodegear
