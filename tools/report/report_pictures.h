// tools/report/report_pictures.h — the pictures of a report.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cases/case.h"

namespace lodegear {

/// The field at the case's own position, and frames while all turn in step at half of the load
/// angle of slip, over the pitch of a pole pair of the sun; as addresses that hold the picture.
struct FieldPictures {
  std::string still;                ///< an SVG with its scale
  std::vector<std::string> frames;  ///< PNG data addresses; empty unless asked for
};

/// Solves on a mesh that is fine enough to look at. Throws std::runtime_error if a position has no
/// solution.
FieldPictures field_pictures(const Case& c, int frames, int threads);

}  // namespace lodegear
