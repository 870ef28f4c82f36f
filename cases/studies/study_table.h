// cases/studies/study_table.h — all designs of a finished study, by column.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/studies/study_record.h"

namespace lodegear {

struct StudyTable {
  StudyRecord record;
  Study study;
  std::vector<DesignRow> rows;  ///< by number
  std::vector<DesignRow> base;  ///< the base case; second, if there: on a finer mesh
};

/// The numbers of a column that varies; none if one of its cells is no number.
std::optional<std::vector<double>> numbers_of_column(const StudyTable& table, std::size_t column);

/// Unit of a column, told by the end of its name ("mm"), or empty.
std::string unit_of(const std::string& figure);

/// study.csv: a header, then a design a line; RFC 4180 but with plain line ends.
std::string study_csv(const StudyTable& table);
/// study.h5
std::string study_hdf5(const StudyTable& table);

}  // namespace lodegear
