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

constexpr int still_size = 760, frame_size = 360, margin_size = 560;  // pixels
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

std::string margin_picture(const Table& table) {
  const std::vector<double> x = table.numbers("x_mm"), y = table.numbers("y_mm"),
                            area = table.numbers("area_mm2"), margin = table.numbers("margin");
  double reach = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) reach = std::max(reach, std::hypot(x[i], y[i]));
  if (!(reach > 0.0)) return {};
  FieldRaster raster;
  raster.points = 2 * margin_size;
  raster.half_width = 1.05 * reach;
  raster.samples.resize(static_cast<std::size_t>(raster.points) *
                        static_cast<std::size_t>(raster.points));
  // Each triangle as a disc somewhat larger than itself: no gap is left between neighbours, and the
  // worst is painted last.
  std::vector<std::size_t> order(x.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(),
            [&](auto a, auto b) { return margin[a] != margin[b] ? margin[a] > margin[b] : a < b; });
  for (const std::size_t i : order) {
    if (!std::isfinite(margin[i])) continue;
    const double radius = 0.85 * std::sqrt(area[i]);
    const auto cell = [&](double at) { return static_cast<int>(at / raster.step()); };
    const int c0 = cell(x[i] - radius + raster.half_width),
              c1 = cell(x[i] + radius + raster.half_width);
    const int r0 = cell(raster.half_width - y[i] - radius),
              r1 = cell(raster.half_width - y[i] + radius);
    for (int r = std::max(r0, 0); r <= std::min(r1, raster.points - 1); ++r)
      for (int c = std::max(c0, 0); c <= std::min(c1, raster.points - 1); ++c) {
        FieldSample& sample = raster.at(c, r);
        sample.part = 1;
        sample.value = static_cast<float>(margin[i]);
        sample.has_value = true;
      }
  }
  const PictureStyle style{Shown::margin, 1.0, -1.0};
  return field_svg(field_picture(raster, style), style,
                   "Distance of the magnets from the knee, the worst of use and slip");
}

}  // namespace lodegear
