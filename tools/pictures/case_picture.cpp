// tools/pictures/case_picture.cpp — what there is to see of a case at one load angle.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/pictures/case_picture.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "cases/losses_of_case.h"
#include "cases/magnets_of_case.h"
#include "cases/members.h"
#include "cases/slip_figures.h"
#include "cases/thermal_of_case.h"
#include "materials/input_error.h"
#include "solver/motion/positions.h"
#include "tools/pictures/vtu.h"

namespace lodegear {

namespace {

Position position_at(const Case& c, double load_angle) {
  Position position = start_position(c.gear);
  if (load_angle == 0.0) return position;
  if (!c.slip) throw InputError({{{}, "--load-angle-deg", "needs a gear of two members or more."}});
  member_angle(position, c.slip->turned) +=
      load_angle / electrical_factor(pole_counts(c.gear), c.slip->turned);
  return position;
}

SolvedCycle cycle_of(const CaseResult& gear, double load_angle, int threads) {
  SolvedCycle cycle = solved_cycle(gear, load_angle, threads);
  if (!cycle.converged) throw std::runtime_error("a position of the cycle in step has no solution");
  return cycle;
}

TriangleNumbers losses(const CaseResult& gear, double load_angle, int threads) {
  const Case& c = gear.input;
  const SolvedCycle cycle = cycle_of(gear, load_angle, threads);
  const MemberSpeeds speeds = speeds_in_step(gear.counts, drive_of(c), c.running->input_speed);
  TriangleNumbers density;
  losses_by_part(gear, cycle, relative_speed(speeds), {}, &density);
  // What has no part in losses is left pale, not shown as losing nothing.
  for (auto& member : density)
    for (double& here : member)
      if (here == 0.0) here = std::numeric_limits<double>::quiet_NaN();
  return density;
}

void check(const Case& c, Subject subject) {
  const bool cycle = subject == Subject::loss || subject == Subject::worst_margin;
  if (cycle && !(c.gear.sun && c.gear.modulator && c.gear.ring && c.running))
    throw InputError({{{},
                       "--show",
                       "a cycle in step needs a gear with [sun], [modulator], [ring] and "
                       "[running]; 'flux-density' and 'margin' need none."}});
  const bool knee_known = std::any_of(c.magnets.begin(), c.magnets.end(), [](const auto& m) {
    return knee(m.second.material, m.second.temperature).has_value();
  });
  const bool margin = subject == Subject::margin || subject == Subject::worst_margin;
  if (margin && !knee_known)
    throw InputError({{{},
                       "--show",
                       "of no magnet of this case the coercivity HcJ is known, so there is no "
                       "knee to keep away from."}});
}

PictureStyle style_of(Subject subject) {
  if (subject == Subject::flux_density) return {};
  if (subject == Subject::loss) return {Shown::loss, 0.0, -1.0};
  return {Shown::margin, 1.0, -1.0};
}

std::string title_of(Subject subject, const Case& c) {
  switch (subject) {
    case Subject::flux_density:
      return "Flux density of " + c.name;
    case Subject::loss:
      return "Where losses arise in " + c.name + ", mean over a cycle in step";
    case Subject::margin:
      return "Distance of the magnets of " + c.name + " from the knee, at one position";
    case Subject::worst_margin:
      break;
  }
  return "Distance of the magnets of " + c.name + " from the knee, the worst of a cycle in step";
}

CellNumbers cells_of(const CasePicture& picture) {
  if (picture.subject == Subject::flux_density) return {};
  if (picture.subject == Subject::loss) return {"loss_W_per_m3", picture.values, 0.0};
  return {"magnet_margin", picture.values, 1.0};  // as if nothing opposed
}

}  // namespace

const std::vector<std::string>& subject_names() {
  static const std::vector<std::string> names = {"flux-density", "loss", "margin", "worst-margin"};
  return names;
}

Subject subject_of(const std::string& name) {
  const auto& names = subject_names();
  return static_cast<Subject>(std::find(names.begin(), names.end(), name) - names.begin());
}

CasePicture case_picture(const Case& c, Subject subject, double load_angle, int threads) {
  check(c, subject);
  const Position position = position_at(c, load_angle);
  CasePicture picture;
  picture.subject = subject;
  picture.prepared = prepared_case(c);
  picture.solution = solved_position(picture.prepared, position);
  const FieldProblem& problem = picture.prepared.solver->problem();
  const CaseResult gear = bare_result(c, picture.prepared);
  if (subject == Subject::loss) picture.values = losses(gear, load_angle, threads);
  if (subject == Subject::margin) picture.values = magnet_margins(c, problem, {picture.solution});
  if (subject == Subject::worst_margin)
    picture.values = magnet_margins(c, problem, cycle_of(gear, load_angle, threads).solutions);
  return picture;
}

std::string picture_file(const CasePicture& picture, const Case& c, const std::string& ending,
                         int size) {
  const FieldProblem& problem = picture.prepared.solver->problem();
  if (ending == ".vtu") return vtu_text(problem, picture.solution, cells_of(picture));
  const double half_width = 0.52 * outer_diameter(c.gear);
  const FieldRaster samples =
      field_raster(problem, picture.solution, picture.values, half_width, 2 * size);
  const PictureStyle style = settled_style(samples, style_of(picture.subject));
  const Raster pixels = field_picture(samples, style);
  return ending == ".png" ? png_bytes(pixels)
                          : field_svg(pixels, style, title_of(picture.subject, c));
}

}  // namespace lodegear
