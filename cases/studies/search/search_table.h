// cases/studies/search/search_table.h — all that a finished search has to tell.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "cases/studies/study_table.h"

namespace lodegear {

struct SearchTable {
  StudyTable all;  ///< every different design in the order asked for, and the base case
  /// Places in all.rows: of one goal the best; of a trade-off the front, by the first goal. Empty
  /// if no design keeps the limits.
  std::vector<std::size_t> chosen;
  /// Chosen designs once more on a finer mesh with whole curves, under the same numbers: the best,
  /// or some of the front.
  std::vector<DesignRow> finer;
  std::vector<std::pair<std::string, std::string>> case_files;  ///< name and text of chosen designs
  std::vector<std::string> base_cells;  ///< the base case's values of what varies
};

namespace search_files {
inline constexpr const char *best = "best.toml", *front_csv = "front.csv", *of_front = "design-";
}

/// What keeps the best, or another row, from being better still: "slip_torque_modulator_Nm (at
/// least 45)", "sun.magnets.thickness_mm (range ends at 3)".
std::vector<std::string> where_it_ends(const SearchTable& table, const DesignRow& row);

/// Limits that a row does not keep, in words: "slip_torque_modulator_Nm 44.9, at least 45".
std::vector<std::string> missed_limits(const SearchTable& table, const DesignRow& row);

std::string search_summary_json(const SearchTable& table,
                                const std::vector<std::pair<std::string, std::string>>& files);
std::string search_summary_text(const SearchTable& table);

/// Writes study.csv, study.h5, study_summary.json and best.toml, or front.csv and a case file for
/// each design of the front; all or none. Returns the names. Throws WriteError.
std::vector<std::string> write_search_results(const std::filesystem::path& folder,
                                              const SearchTable& table);

}  // namespace lodegear
