// cases/choosing/design_work.h — many designs on several threads, results in fixed order.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/choosing/design.h"
#include "cases/run_case.h"

namespace lodegear {

struct DesignTask {
  Case c;
  PoleSet set;
};

/// Figures of each task, in order; none where a position has no solution. One thread a design, so
/// the number of threads changes no bit. What the progress throws ends the work and is thrown on.
std::vector<std::optional<DesignFigures>> worked_off(const std::vector<DesignTask>& tasks,
                                                     const std::string& stage,
                                                     const RunOptions& options);

}  // namespace lodegear
