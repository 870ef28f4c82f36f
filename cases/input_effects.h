// cases/input_effects.h — what a small change of each input does to the slip torque and to the
// requirement that decides. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "cases/nudges.h"
#include "cases/run_case.h"
#include "solver/motion/positions.h"

namespace lodegear {

/// A figure's slope, as a part of the figure, for one step; and how far off it may be: half of what
/// the forward and the backward slope differ by, so the noise of the meshes and the bend of the
/// curve together.
struct Slope {
  double part = 0.0, open = 0.0;
};

struct InputEffect {
  std::string input, unit;
  double now = 0.0, step = 0.0;          ///< in `unit`; step signed, the way that helps
  std::optional<Slope> torque;           ///< of the slip torque expected on the bench
  std::optional<double> torque_percent;  ///< per cent of torque for each per cent of the input
  std::optional<Slope> margin;           ///< of the deciding requirement, part of what is wanted
  std::string why_none;                  ///< where a changed gear cannot be drawn or solved
};

/// A figure of a changed case; std::exception where it has none.
using FigureOfCase = std::function<double(const Case&)>;

/// Slopes of `figure` by central differences over `nudges`, one case a thread at a time; the same
/// bits whatever their number. None (with the reason) where a changed case cannot be drawn or
/// solved, neither forwards nor backwards. Of one side alone the slope is open by what half of the
/// way says otherwise.
struct FoundSlope {
  double slope = 0.0, open = 0.0;  ///< of the figure itself, for a step
  std::string why_none;            ///< empty = found
};
/// `base`: the figure of `c` itself, found the same way.
std::vector<FoundSlope> slopes(const Case& c, const std::vector<Nudge>& nudges, double base,
                               const FigureOfCase& figure, const RunOptions& options);

/// Torque [N·m, magnitude] on the output at a load angle, of the plane model. At the angle of the
/// peak its slopes are those of the slip torque: the peak's own shift is of second order.
double torque_at(const Case& c, const Resolution& resolution, Member output, double load_angle);

}  // namespace lodegear
