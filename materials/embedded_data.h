// materials/embedded_data.h — the data files beside this code, as they were at build time.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <span>
#include <string_view>

namespace lodegear {

struct EmbeddedFile {
  std::string_view folder;  ///< "steels", "magnets", "others" or "curves"
  std::string_view stem;    ///< file name without .toml: the material's name
  std::string_view text;
};

/// All files of those folders, sorted; the source is written by embed_data.cmake.
std::span<const EmbeddedFile> embedded_files();

}  // namespace lodegear
