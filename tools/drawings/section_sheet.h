// tools/drawings/section_sheet.h — dimensioned drawings: lamination and whole cross-section.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/case.h"
#include "tools/drawings/drawings.h"

namespace lodegear {

/// A pole piece, as large as the paper lets it be, with every dimension of the case.
Page lamination_page(const Case& c);
/// The cross-section, with a table of radii.
Page section_page(const Case& c);

/// lamination.svg and section.svg.
Drawings dimensioned_files(const Case& c);

/// The largest usual scale (2:1, 1:1, 1:2, …) at which `size` fits into `room`.
double usual_scale(const Eigen::Vector2d& size, const Eigen::Vector2d& room);
/// "2:1".
std::string scale_text(double scale);

}  // namespace lodegear
