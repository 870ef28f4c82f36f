// cases/studies/study_summary.h — what a study comes to: best designs, spreads, what matters.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "cases/studies/study_table.h"

namespace lodegear {

/// study_summary.json; `files` with their fingerprints.
std::string study_summary_json(const StudyTable& table,
                               const std::vector<std::pair<std::string, std::string>>& files);

/// The same for the screen.
std::string study_summary_text(const StudyTable& table);

/// 0 good, 3 no design has a solution, 5 none keeps the limits of [best].
int study_exit_code(const StudyTable& table);

}  // namespace lodegear
