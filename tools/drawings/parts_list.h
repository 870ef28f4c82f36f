// tools/drawings/parts_list.h — what to buy and to make, how many, how heavy, at what cost.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/case.h"
#include "tools/drawings/draw_options.h"

namespace lodegear {

/// Equal parts.
struct ListedPart {
  std::string member;           ///< "sun", "modulator", "ring", or "gear"
  std::string part;             ///< "magnet", "lamination", "hub" …
  std::string description;      ///< "block 10 × 5 × 40 mm, magnetised through 5 mm"
  std::string material;         ///< grade
  int count = 1;                ///< in the whole gear
  std::optional<double> mass;   ///< kg of one; none where the density is not known
  std::optional<double> price;  ///< of one
};

std::vector<ListedPart> parts_list(const Case& c, const DrawOptions& options);

/// Sheets in one pole piece: stack length × stacking factor / sheet thickness, to the nearest; 0 if
/// it is solid.
int sheets_in_stack(const Case& c);

/// No two touching faces pull harder than this, N: B²A/2µ0 with the remanence for B. A face against
/// thick steel likewise, which mirrors it.
double strongest_pull(double remanence, double face);

/// parts.csv and parts.txt.
Files parts_files(const Case& c, const DrawOptions& options);

}  // namespace lodegear
