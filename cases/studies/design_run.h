// cases/studies/design_run.h — one design of a study, from the text of its case to its figures.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "materials/catalogue.h"

namespace lodegear {

enum class DesignState { good, unsure, failed };
const char* name_of(DesignState state);

/// What came out of a design. `failed`: it cannot be built or has no solution, and holds no
/// figures; `unsure`: a figure is missing or not as sure as it should be; `remark` then says why.
struct DesignOutcome {
  DesignState state = DesignState::good;
  std::vector<std::optional<double>> figures;  ///< in the order asked for
  std::string remark;
};

/// What is the same for all designs.
struct DesignTask {
  std::vector<std::string> figures;
  double level = 0.5;              ///< of the mesh, mesh/ladder.h
  std::optional<double> accuracy;  ///< part of one; instead of `level`
  bool whole_curves = false;       ///< also where a few positions would do
};

/// Thrown out of run_design when `stop_asked` said so.
struct DesignStopped {};

struct KeptParts;

/// Solves with one thread. The same text gives the same bits, whatever ran before and is kept.
DesignOutcome run_design(const std::string& case_text, const DesignTask& task,
                         const Catalogue& catalogue, const std::function<bool()>& stop_asked,
                         KeptParts* kept = nullptr);

}  // namespace lodegear
