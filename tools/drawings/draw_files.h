// tools/drawings/draw_files.h — everything a workshop gets of a case, and the folder it lies in.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>

#include "cases/case.h"
#include "cases/validation.h"
#include "tools/drawings/drawings.h"

namespace lodegear {

/// All but what needs the field, sheets not yet as files. Throws InputError.
Drawings drawings_of(const Case& c, const DrawOptions& options);

/// All files of the case but those that need the field. Throws InputError.
Files drawing_files(const Case& c, const DrawOptions& options);

/// Throws WriteError if drawings of case `c` cannot or should not go to `folder`: it holds what is
/// not ours, drawings of a case of another name, or a file that was edited since; with `force` only
/// what cannot be written counts. To be called before the long work.
void check_drawing_folder(const std::filesystem::path& folder, const Case& c, bool force);

/// Writes the files and drawings.json, which lists them with their fingerprints, all or none, and
/// removes what earlier drawings left that these have not. Throws WriteError.
void write_drawings(const Files& files, const Case& c, const std::filesystem::path& folder,
                    bool force);

}  // namespace lodegear
