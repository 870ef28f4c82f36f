// tools/report/line_chart.h — curves as a picture that stands alone, and can be read out.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace lodegear {

struct Curve {
  std::string name;
  std::vector<double> x, y;  ///< NaN leaves a hole
};

struct LineChart {
  std::string title, x_label, y_label;
  std::vector<Curve> curves;
  bool log_x = false;  ///< points at x ≤ 0 are left out
};

/// A figure with an SVG that needs no script: axes with round ticks, curves told apart by dashes as
/// well as by colour, names at a key. The values stand beside it for the scripts, which show them
/// under the pointer and, with the arrow keys, to whoever has none, and zoom.
std::string line_chart(const LineChart& chart);

/// Round ticks from at or below `least` to at or above `most`, four to eight of them.
std::vector<double> round_ticks(double least, double most);

}  // namespace lodegear
