// solver/post/demagnetisation.cpp — what the magnets bear, and what is left of them.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/demagnetisation.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "materials/constants.h"
#include "solver/fem/element_table.h"

namespace lodegear {

namespace {

constexpr double coldest = -100.0, hottest = 350.0;  // °C

double opposing(const FieldMember& member, const Eigen::VectorXd& a, int triangle,
                double remanence) {
  const RegionLaw& law = member.law(triangle);
  double along = 0.0, area = 0.0;
  for (const ElementPoint& p : element_points(member.mesh, triangle)) {
    Eigen::Vector2d b = Eigen::Vector2d::Zero();
    for (int i = 0; i < 6; ++i)
      b += Eigen::Vector2d(p.bx[i], p.by[i]) * a[member.mesh.triangles(triangle, i)];
    along += p.weight * b.dot(law.magnetisation.at(p.x).normalized());
    area += p.weight;
  }
  return law.reluctivity.at(0).nu * (remanence - along / area);
}

// Field at another temperature over that of the solution.
double scale(const MagnetMaterial& magnet, double solved_at, double celsius) {
  const double solved = remanence(magnet, solved_at);
  return solved > 0.0 ? remanence(magnet, celsius) / solved : 0.0;
}

double left_of_remanence(const MagnetMaterial& magnet, double h, double celsius,
                         double squareness) {
  const double whole = remanence(magnet, celsius);
  if (whole <= 0.0) return 0.0;
  if (h <= 0.0) return 1.0;
  const double after = polarisation(magnet, h, celsius, squareness) + (magnet.mu_rec - 1) * mu0 * h;
  return std::clamp(after / whole, -1.0, 1.0);
}

double share_lost(const OpposingField& field, const MagnetMaterial& magnet, double solved_at,
                  double celsius, double squareness) {
  return demagnetisation(field, magnet, solved_at, celsius, squareness)->volume_lost;
}

// Where the lost share passes `share` between a temperature at which less is lost and one at which
// more is.
double passes(const OpposingField& field, const MagnetMaterial& magnet, double solved_at,
              double share, double squareness, double good, double bad) {
  for (int i = 0; i < 40; ++i) {
    const double middle = 0.5 * (good + bad);
    (share_lost(field, magnet, solved_at, middle, squareness) > share ? bad : good) = middle;
  }
  return good;
}

}  // namespace

OpposingField opposing_field(const FieldMember& member) {
  OpposingField field;
  for (int t = 0; t < member.mesh.triangles.rows(); ++t) {
    const double remanence = member.remanence(t);
    if (member.region(t).kind != RegionKind::magnet || remanence == 0.0) continue;
    field.triangle.push_back(t);
    field.area.push_back(triangle_area(member.mesh, t));
    field.remanence.push_back(std::abs(member.law(t).magnetisation.strength) * remanence);
    field.h.push_back(-std::numeric_limits<double>::infinity());
  }
  return field;
}

void add_position(const FieldMember& member, const Eigen::VectorXd& a, OpposingField& field) {
  for (std::size_t i = 0; i < field.triangle.size(); ++i)
    field.h[i] = std::max(field.h[i], opposing(member, a, field.triangle[i], field.remanence[i]));
}

std::optional<Demagnetisation> demagnetisation(const OpposingField& field,
                                               const MagnetMaterial& magnet, double solved_at,
                                               double celsius, double squareness) {
  const std::optional<Knee> limit = knee(magnet, celsius, squareness);
  if (!limit) return std::nullopt;
  Demagnetisation result;
  result.margin = 1.0;
  double volume = 0.0, lost = 0.0, left = 0.0;
  for (std::size_t i = 0; i < field.h.size(); ++i) {
    const double h = field.h[i] * scale(magnet, solved_at, celsius);
    result.margin = std::min(result.margin, limit->h > 0.0 ? 1.0 - h / limit->h : -1.0);
    volume += field.area[i];
    if (h > limit->h) lost += field.area[i];
    left += field.area[i] * left_of_remanence(magnet, h, celsius, squareness);
  }
  if (volume <= 0.0) return result;
  result.volume_lost = lost / volume;
  result.remanence_left = left / volume;
  return result;
}

std::optional<SafeTemperatures> safe_temperatures(const OpposingField& field,
                                                  const MagnetMaterial& magnet, double solved_at,
                                                  double share, double squareness) {
  if (!knee(magnet, solved_at, squareness)) return std::nullopt;
  SafeTemperatures safe;
  const auto bad = [&](double celsius) {
    return share_lost(field, magnet, solved_at, celsius, squareness) > share;
  };
  if (bad(solved_at)) {
    safe.none = true;
    return safe;
  }
  if (bad(hottest))
    safe.highest = passes(field, magnet, solved_at, share, squareness, solved_at, hottest);
  if (bad(coldest))
    safe.lowest = passes(field, magnet, solved_at, share, squareness, solved_at, coldest);
  return safe;
}

std::vector<double> weakening(const FieldMember& member, const OpposingField& field,
                              const MagnetMaterial& magnet, double solved_at, double celsius,
                              double squareness) {
  std::vector<double> left(static_cast<std::size_t>(member.mesh.triangles.rows()), 1.0);
  for (std::size_t i = 0; i < field.triangle.size(); ++i)
    left[static_cast<std::size_t>(field.triangle[i])] = left_of_remanence(
        magnet, field.h[i] * scale(magnet, solved_at, celsius), celsius, squareness);
  return left;
}

double coercivity_needed(const OpposingField& field, const MagnetMaterial& magnet, double solved_at,
                         double celsius, double margin, double squareness) {
  double worst = 0.0;
  for (const double h : field.h) worst = std::max(worst, h);
  MagnetMaterial unit = magnet;
  unit.intrinsic_coercivity = 1.0;
  const double falls = *intrinsic_coercivity(unit, celsius);
  const double h = worst * scale(magnet, solved_at, celsius);
  return falls > 0.0 ? h / ((1 - margin) * squareness * falls)
                     : std::numeric_limits<double>::infinity();
}

}  // namespace lodegear
