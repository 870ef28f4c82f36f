// cases/studies/study_findings.h — spreads and sensitivities of every figure of a study.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "cases/studies/statistics.h"
#include "cases/studies/study_table.h"

namespace lodegear {

/// How much one parameter matters to one figure. Numbers have the first two, words the third.
struct Sensitivity {
  std::optional<double> regression;  ///< standardised coefficient
  std::optional<double> rank_correlation;
  std::optional<double> group_share;
};

/// A figure over all designs that have it.
struct FigureFindings {
  std::string name;
  std::optional<Spreading> spreading;
  std::optional<double> r_squared;         ///< of the regression
  std::vector<Sensitivity> sensitivities;  ///< one a column that varies
  std::optional<double> base, base_finer;  ///< of the base case; on a finer mesh
};

std::vector<FigureFindings> study_findings(const StudyTable& table);

/// Designs in each state.
struct StateCounts {
  int good = 0, unsure = 0, failed = 0;
};
StateCounts state_counts(const StudyTable& table);

/// Whether designs were drawn, so that their percentiles say something.
bool is_drawn(const Study& study);

}  // namespace lodegear
