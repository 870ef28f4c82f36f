// cases/studies/study_best.h — which designs are the best by the user's criteria.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/studies/block_file.h"
#include "cases/studies/study.h"

namespace lodegear {

/// A figure of a row; none if it is missing or not asked for.
std::optional<double> figure_of(const DesignRow& row, const std::vector<std::string>& figures,
                                const std::string& name);

/// Whether a figure keeps a limit, but for the last digits: 1.2 mm between two radii is not 1.2.
bool keeps(const Limit& limit, double figure);

/// Whether the design was solved and keeps every limit. A figure that is missing keeps none.
bool keeps_limits(const DesignRow& row, const std::vector<std::string>& figures, const Best& best);

/// Remembers the best of the rows it is shown; of equals the first by number.
class BestSoFar {
 public:
  BestSoFar(std::optional<Best> best, std::vector<std::string> figures)
      : best_(std::move(best)), figures_(std::move(figures)) {}
  void look_at(const DesignRow& row);
  /// Number and figure of the best one.
  struct Found {
    int number = 0;
    double figure = 0.0;
  };
  const std::optional<Found>& found() const { return found_; }
  /// "best 48.7 N·m (design 12)", or nothing.
  std::string text() const;

 private:
  std::optional<Best> best_;
  std::vector<std::string> figures_;
  std::optional<Found> found_;
};

/// The rows that keep the limits, best first, at most `most`.
std::vector<const DesignRow*> ranked(const std::vector<DesignRow>& rows,
                                     const std::vector<std::string>& figures, const Best& best,
                                     std::size_t most);

}  // namespace lodegear
