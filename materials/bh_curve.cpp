// materials/bh_curve.cpp — checking, straightening and ending a table of H and B.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/bh_curve.h"

#include <algorithm>
#include <cmath>

#include "materials/input_error.h"
#include "materials/reluctivity.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr double rounding = 0.01;       // T, tables with two decimals may seem to lose this much J
constexpr double end_tolerance = 0.05;  // of µ0, last slope of a saturated table

std::string at_point(const BhPoint& p) {
  return "H = " + number_text(p.h) + " A/m, B = " + rounded_text(p.b, 4) + " T";
}

double polarisation_of(const BhPoint& p) { return p.b - mu0 * p.h; }

std::vector<BhPoint> with_zero(std::vector<BhPoint> table) {
  if (table.empty() || table.front().h != 0.0) table.insert(table.begin(), {0.0, 0.0});
  return table;
}

/// Index of the largest B/H; the table starts with (0, 0).
std::size_t steepest_point(const std::vector<BhPoint>& table) {
  std::size_t best = 1;
  for (std::size_t i = 2; i < table.size(); ++i)
    if (table[i].b * table[best].h >= table[best].b * table[i].h) best = i;
  return best;
}

/// Faults that make the other checks pointless.
std::vector<std::string> faults_of_order(const std::vector<BhPoint>& table) {
  std::vector<std::string> faults;
  if (table.size() < 4) {
    faults.push_back("the table has too few points; give at least three beside H = 0, B = 0.");
    return faults;
  }
  for (const BhPoint& p : table)
    if (!std::isfinite(p.h) || !std::isfinite(p.b)) return {"the table holds no numbers."};
  if (table.back().h < table.back().b && table.back().b > 10.0)
    return {"the columns seem to be swapped: each row is [H in A/m, B in T]."};
  if (table.front().h == 0.0 && table.front().b != 0.0)
    return {"B is " + number_text(table.front().b) +
            " T at H = 0; give the magnetisation curve that starts at zero, not a loop."};
  for (std::size_t i = 1; i < table.size(); ++i) {
    if (!(table[i].h > table[i - 1].h))
      faults.push_back("H does not rise at " + at_point(table[i]) + ".");
    if (!(table[i].b > table[i - 1].b))
      faults.push_back("B does not rise at " + at_point(table[i]) + ".");
  }
  return faults;
}

void add_faults_of_physics(std::vector<std::string>& faults, const std::vector<BhPoint>& table,
                           double most_polarisation) {
  double highest = 0.0;
  for (const BhPoint& p : table) {
    const double j = polarisation_of(p);
    if (j > most_polarisation)
      faults.push_back("the polarisation B − µ0 H is " + rounded_text(j, 4) + " T at " +
                       at_point(p) + "; no such steel has more than " +
                       number_text(most_polarisation) + " T.");
    if (j < highest - rounding)
      faults.push_back("the polarisation B − µ0 H falls at " + at_point(p) +
                       "; B must rise at least as fast as in air.");
    highest = std::max(highest, j);
  }
  const std::size_t start = steepest_point(table);
  if (table[start].b / table[start].h > 2e6 * mu0)
    faults.push_back("the relative permeability is above two million at " + at_point(table[start]) +
                     "; H is expected in A/m and B in T.");
  for (std::size_t i = start + 1; i < table.size(); ++i)
    if (table[i].h * table[i - 1].b < 0.99 * table[i - 1].h * table[i].b)
      faults.push_back("H/B falls again at " + at_point(table[i]) +
                       ", beyond the point of highest permeability; the point is off the curve.");
}

/// The law of approach through the last two points, from the last one on.
void carry_on(std::vector<BhPoint>& points, double most_polarisation) {
  const BhPoint p1 = points[points.size() - 2], p2 = points.back();
  const double j1 = polarisation_of(p1), j2 = polarisation_of(p2);
  const double room = p1.h > 0.0 ? (j2 - j1) * p1.h / (p2.h - p1.h) : 0.0;  // Js − J2
  const double js = std::min(j2 + room, std::max(most_polarisation, j2));
  const double a_js = (js - j2) * p2.h;                 // J = Js − a Js / H
  const double h_end = std::sqrt(a_js / (0.02 * mu0));  // slope µ0 + a Js / H²
  const int n = std::max(1, static_cast<int>(std::ceil(std::log(h_end / p2.h) / std::log(1.4))));
  for (int i = 1; i <= n && h_end > p2.h; ++i) {
    const double h = p2.h * std::pow(h_end / p2.h, double(i) / n);
    points.push_back({h, js - a_js / h + mu0 * h});
  }
  const BhPoint end = points.back();  // one more chord of slope µ0 for the end itself
  points.push_back({2.0 * end.h, end.b + mu0 * end.h * (1.0 + 0.5 * end_tolerance)});
}

bool saturated(const std::vector<BhPoint>& points) {
  const BhPoint &p1 = points[points.size() - 2], &p2 = points.back();
  return p2.b - p1.b <= (1.0 + end_tolerance) * mu0 * (p2.h - p1.h);
}

}  // namespace

std::vector<std::string> bh_table_faults(const std::vector<BhPoint>& given,
                                         double most_polarisation) {
  const std::vector<BhPoint> table = with_zero(given);
  std::vector<std::string> faults = faults_of_order(table);
  if (faults.empty()) add_faults_of_physics(faults, table, most_polarisation);
  return faults;
}

BhCurve::BhCurve(std::vector<BhPoint> table, double most_polarisation)
    : most_polarisation_(most_polarisation) {
  const std::vector<std::string> faults = bh_table_faults(table, most_polarisation);
  if (!faults.empty()) {
    std::vector<Complaint> complaints;
    for (const std::string& fault : faults) complaints.push_back({{}, {}, fault});
    throw InputError(std::move(complaints));
  }
  points_ = with_zero(std::move(table));
  last_given_b_ = points_.back().b;
  points_.erase(points_.begin() + 1, points_.begin() + steepest_point(points_));
  for (std::size_t i = 1; i < points_.size(); ++i)  // J that falls within rounding is held
    points_[i].b =
        std::max(points_[i].b, points_[i - 1].b + mu0 * (points_[i].h - points_[i - 1].h));
  if (!saturated(points_)) carry_on(points_, most_polarisation);
}

double BhCurve::polarisation(double h) const {
  return flux_density_at(Reluctivity::from_curve(*this), h) - mu0 * h;
}

// ---- guaranteed minimum -------------------------------------------------------------------------

namespace {

/// How much J is lowered at a field, through points (ln H, reduction).
class Reduction {
 public:
  Reduction(const BhCurve& typical, const std::vector<GuaranteedPoint>& guaranteed) {
    nodes_.push_back({500.0, 0.0});
    for (const GuaranteedPoint& g : guaranteed)
      if (g.h > 500.0) nodes_.push_back({g.h, std::max(0.0, typical.polarisation(g.h) - g.j)});
    const auto [last_h, last_reduction] = nodes_.back();
    nodes_.push_back({2.0 * last_h, last_reduction});
    nodes_.push_back({10.0 * last_h, 0.0});
  }

  double at(double h) const {
    if (h <= nodes_.front().h || h >= nodes_.back().h) return 0.0;
    std::size_t i = 1;
    while (h > nodes_[i].h) ++i;
    const Node &p = nodes_[i - 1], &q = nodes_[i];
    return p.by + (q.by - p.by) * std::log(h / p.h) / std::log(q.h / p.h);
  }

  std::vector<double> fields() const {
    std::vector<double> all;
    for (const Node& node : nodes_) all.push_back(node.h);
    return all;
  }

 private:
  struct Node {
    double h, by;
  };
  std::vector<Node> nodes_;
};

}  // namespace

BhCurve guaranteed_minimum(const BhCurve& typical, const std::vector<GuaranteedPoint>& guaranteed) {
  if (guaranteed.empty()) return typical;
  const Reduction reduction(typical, guaranteed);
  std::vector<BhPoint> points = typical.points();
  for (const double h : reduction.fields()) {
    const auto here = [&](const BhPoint& p) { return std::abs(p.h - h) < 1e-6 * h; };
    if (std::any_of(points.begin(), points.end(), here)) continue;
    points.push_back({h, typical.polarisation(h) + mu0 * h});
  }
  std::sort(points.begin(), points.end(),
            [](const BhPoint& p, const BhPoint& q) { return p.h < q.h; });
  for (BhPoint& p : points) p.b -= reduction.at(p.h);
  BhCurve worst(std::move(points), typical.most_polarisation_);
  worst.last_given_b_ = typical.last_given_b_;
  return worst;
}

// ---- stacks -------------------------------------------------------------------------------------

BhCurve stacked(const BhCurve& steel, double f) {
  BhCurve mean = steel;
  const auto with_coating = [f](double b, double h) { return f * b + (1.0 - f) * mu0 * h; };
  for (BhPoint& p : mean.points_) {
    if (p.b == steel.last_given_b_) mean.last_given_b_ = with_coating(p.b, p.h);
    p.b = with_coating(p.b, p.h);
  }
  return mean;
}

double steel_flux_density(double mean_b, double h, double stacking_factor) {
  return (mean_b - (1.0 - stacking_factor) * mu0 * h) / stacking_factor;
}

}  // namespace lodegear
