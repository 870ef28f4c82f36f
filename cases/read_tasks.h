// cases/read_tasks.h — the tables of a case file that say what to compute and how finely.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/case.h"

namespace lodegear {

// ---- the keys -----------------------------------------------------------------------------------
//
// [slip] [running] [output]   stand beside the fields of SlipTask, RunningTask and OutputTask in
//                             case.h; and in both of the first
//   compute             true | false. Default: slip with all three members, or with a sun and a
//                       ring of equal pole pairs; running with all three members
//
// [mesh]
//   accuracy_percent    → Accuracy::part, in case.h; or, instead of it, the mesh by hand:
//   fineness            → Resolution::fineness, 0.25 to 8; 2 halves every length. Default 1
//   orders_inner_gap    → Resolution::orders_inner_gap, 0 to 2000; 0 = chosen. Default 0
//   orders_outer_gap    → Resolution::orders_outer_gap. Default 0

/// Reads [slip], [running], [mesh] and [output] into `into`, whose gear must be known. `log` is
/// that of `root`.
void read_tasks(TableReader& root, ReadLog& log, Case& into);

}  // namespace lodegear
