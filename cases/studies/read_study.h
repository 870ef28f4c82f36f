// cases/studies/read_study.h — from a study file to a study, or to everything that is wrong with
// it. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string_view>

#include "cases/studies/study.h"

namespace lodegear {

/// Throws InputError with all complaints at once, each with "file:line:column", key, what is wrong
/// and what would be right. What concerns the base case is looked at by study_plan().
Study read_study(const std::filesystem::path& path);

/// The same from text; `name` stands before positions in messages.
Study read_study_text(std::string_view text, const std::string& name);

}  // namespace lodegear
