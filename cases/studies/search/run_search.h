// cases/studies/search/run_search.h — a study whose designs are chosen by what came out of others.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/studies/run_study.h"
#include "cases/studies/search/search_table.h"
#include "cases/studies/study_status.h"

namespace lodegear {

// Goes on by asking again: from one seed a search asks for the same designs in the same order, and
// those that are kept (kept_designs.h) are not solved again. So the results are the same whether it
// was interrupted or not, and whatever the number of threads.

struct SearchOutcome {
  bool finished = false;  ///< else it was stopped
  int solved = 0;         ///< designs that are kept, base case and finer meshes included
  SearchTable table;
  std::vector<std::string> written;
};

/// Throws WriteError as run_study does, InputError if a shard is asked for.
SearchOutcome run_search(const StudyPlan& plan, const Catalogue& catalogue,
                         const std::filesystem::path& folder, const StudyOptions& options);

/// What `lodegear status` tells; study_status() asks here if the folder holds a search.
StudyStatus search_status(const std::filesystem::path& folder, const StudyInFolder& study);

}  // namespace lodegear
