// tools/report/report_pictures.cpp — the pictures of a report.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/report_pictures.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "cases/run_case.h"
#include "cases/slip_figures.h"
#include "cases/thermal_of_case.h"
#include "mesh/ladder.h"
#include "solver/motion/positions.h"
#include "solver/motion/sweep.h"
#include "tools/pictures/field_picture.h"

namespace lodegear {

namespace {

constexpr int still_size = 760, frame_size = 360;  // pixels
constexpr double rim = 0.52;  // of the outer diameter: a little paper around the gear

std::vector<FieldSolution> solved(const FieldSolver& solver, const Positions& positions,
                                  int threads) {
  SweepOptions options;
  options.threads = threads;
  options.keep = KeepPotentials::every;
  std::vector<FieldSolution> solutions = sweep_curve(solver, positions, options);
  for (const FieldSolution& s : solutions)
    if (!s.summary.converged) throw std::runtime_error(s.summary.message);
  return solutions;
}

/// Four bits a channel: enough for what moves, and a third of the bytes.
Raster coarse(Raster picture) {
  for (Colour& pixel : picture.pixels)
    for (std::uint8_t* channel : {&pixel.r, &pixel.g, &pixel.b})
      *channel = static_cast<std::uint8_t>(*channel / 16 * 17);
  return picture;
}

Positions film_positions(const Case& c, int frames) {
  const PoleCounts counts = pole_counts(c.gear);
  const double pitch = 2 * std::numbers::pi / counts.sun;
  return running_positions(counts, c.running->held, std::numbers::pi / 4, pitch, frames);
}

}  // namespace

FieldPictures field_pictures(const Case& c, int frames, int threads) {
  const PreparedCase prepared = prepared_case(c, resolution_for(c.gear, 0.5, false));
  const FieldProblem& problem = prepared.solver->problem();
  const double half_width = rim * outer_diameter(c.gear);
  const auto samples = [&](const FieldSolution& s, int size) {
    return field_raster(problem, s, {}, half_width, 2 * size);
  };
  FieldPictures pictures;
  const auto still = solved(*prepared.solver, {start_position(c.gear)}, threads);
  const FieldRaster first = samples(still.front(), still_size);
  const PictureStyle style = settled_style(first, {});
  pictures.still = field_svg(field_picture(first, style), style,
                             "Cross-section with flux density and flux lines");
  if (frames > 0 && c.running)
    for (const FieldSolution& s : solved(*prepared.solver, film_positions(c, frames), threads))
      pictures.frames.push_back(
          png_data_address(coarse(field_picture(samples(s, frame_size), style))));
  return pictures;
}

}  // namespace lodegear
