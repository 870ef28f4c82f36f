// solver/field/line_search.cpp — how far to go along Newton's direction, the same on both paths.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/line_search.h"

#include <cstdio>

namespace lodegear {

void tell_not_converged(double residual, double tolerance, SolveSummary& summary) {
  char text[120];
  std::snprintf(text, sizeof text, "not converged after %d steps, load out of balance %.1e of %.0e",
                summary.iterations, residual, tolerance);
  summary.message = text;
}

}  // namespace lodegear
