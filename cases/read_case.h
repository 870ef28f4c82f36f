// cases/read_case.h — from a case file to a case, or to everything that is wrong with it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "cases/case.h"
#include "materials/catalogue.h"

namespace lodegear {

/// Reads a case file. Throws InputError with all complaints at once, in the order of the file, each
/// with "file:line:column", key, what is wrong and what would be right: text that is no TOML, keys
/// that are unknown, missing or out of range, materials nobody knows, and parts that do not fit
/// (check_gear). A case that is returned can be meshed.
Case read_case(const std::filesystem::path& path, const Catalogue& catalogue = Catalogue());

/// The same from text; `name` stands before positions in messages.
Case read_case_text(std::string_view text, const std::string& name,
                    const Catalogue& catalogue = Catalogue());

}  // namespace lodegear
