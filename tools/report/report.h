// tools/report/report.h — one page that holds all that results have to say.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "materials/catalogue.h"
#include "tools/report/results.h"

namespace lodegear {

struct ReportOptions {
  int frames = 0;  ///< of the animation
  int threads = 1;
};

/// A self-contained page: no script, picture or font is fetched from anywhere. With several results
/// their main figures stand side by side first.
std::string report_html(const std::vector<Results>& all, const Catalogue& catalogue,
                        const ReportOptions& options);

}  // namespace lodegear
