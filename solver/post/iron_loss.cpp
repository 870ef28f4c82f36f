// solver/post/iron_loss.cpp — hysteresis, eddy and excess loss of steel, element by element.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/iron_loss.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/constants.h"
#include "solver/post/hysteresis.h"

namespace lodegear {

namespace {

/// B and its rate in the steel at one point over the period.
struct Locus {
  Eigen::ArrayXd x, y, x_rate, y_rate;
};

/// kh f B^alpha and ke, from what is known.
struct Coefficients {
  HysteresisSource source = HysteresisSource::unknown;
  double kh = 0.0, alpha = 1.0, ke = 0.0;
};

Coefficients coefficients(const Steel& steel) {
  if (steel.loss)
    return {HysteresisSource::loss_data, steel.loss->kh, steel.loss->alpha, steel.loss->ke};
  if (steel.coercivity)
    return {HysteresisSource::coercivity, 4 * *steel.coercivity / steel.density, 1.0, 0.0};
  return {};
}

bool sheet_is_known(const Steel& steel) {
  return steel.thickness > 0.0 && steel.resistivity > 0.0 && steel.density > 0.0;
}

/// Of ⟨|Ḃ|²⟩, W s²/(kg T²). 0 for solid steel.
double classical_coefficient(const Steel& steel) {
  if (sheet_is_known(steel))
    return steel.thickness * steel.thickness / (12 * steel.resistivity * steel.density);
  return steel.loss ? steel.loss->kc / (2 * pi * pi) : 0.0;
}

/// From the mean over a stack to the steel in it: B = q B̄, q = (1 − (1 − s) µ0 ν)/s.   (theory 8.5)
Locus in_steel(const TriangleLoci& loci, int point, const Reluctivity& law, double share) {
  Locus b{loci.bx.row(point), loci.by.row(point), loci.bx_rate.row(point), loci.by_rate.row(point)};
  if (share == 1.0) return b;
  for (Eigen::Index i = 0; i < b.x.size(); ++i) {
    const ReluctivityPoint nu = law.without_energy(b.x[i] * b.x[i] + b.y[i] * b.y[i]);
    const double q = (1 - (1 - share) * mu0 * nu.nu) / share;
    const double b2_rate = 2 * (b.x[i] * b.x_rate[i] + b.y[i] * b.y_rate[i]);
    const double q_rate = -(1 - share) * mu0 * nu.dnu_db2 / share * b2_rate;
    b.x_rate[i] = q * b.x_rate[i] + q_rate * b.x[i];
    b.y_rate[i] = q * b.y_rate[i] + q_rate * b.y[i];
    b.x[i] *= q;
    b.y[i] *= q;
  }
  return b;
}

/// The whole period along one direction, of a series that may cover half of it.
std::vector<double> along(const Locus& b, const Eigen::Vector2d& direction, bool half_wave) {
  std::vector<double> series;
  for (double sign : {1.0, -1.0}) {
    for (Eigen::Index i = 0; i < b.x.size(); ++i)
      series.push_back(sign * (direction[0] * b.x[i] + direction[1] * b.y[i]));
    if (!half_wave) break;
  }
  return series;
}

/// Direction in which B varies most.
Eigen::Vector2d major_axis(const Locus& b, bool half_wave) {
  const Eigen::ArrayXd x = half_wave ? b.x : Eigen::ArrayXd(b.x - b.x.mean());
  const Eigen::ArrayXd y = half_wave ? b.y : Eigen::ArrayXd(b.y - b.y.mean());
  Eigen::Matrix2d spread;
  spread << (x * x).sum(), (x * y).sum(), (x * y).sum(), (y * y).sum();
  return Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>().computeDirect(spread).eigenvectors().col(
      1);
}

/// B_m^alpha × loops × rotation.                                                     (theory 8.4)
double hysteresis_per_cycle(const Locus& b, double alpha, bool half_wave) {
  const Eigen::Vector2d major = major_axis(b, half_wave), minor(-major[1], major[0]);
  const std::vector<double> ranges = loop_ranges(along(b, major, half_wave));
  if (ranges.empty() || ranges.front() <= 0.0) return 0.0;
  const std::vector<double> across = along(b, minor, half_wave);
  const auto [low, high] = std::minmax_element(across.begin(), across.end());
  const double peak = 0.5 * ranges.front();
  const double roundness = std::min(1.0, 0.5 * (*high - *low) / peak);
  return std::pow(peak, alpha) * loop_factor(ranges) *
         (1 + (rotation_factor(peak) - 1) * roundness);
}

/// Sums over one body of steel.
class SteelSum {
 public:
  SteelSum(const MemberHistory& history, const Steel& steel, double share, double phase_speed)
      : history_(history),
        steel_(steel),
        share_(share),
        speed_(std::abs(phase_speed)),
        known_(coefficients(steel)) {
    classical_ = classical_coefficient(steel);
    loss_.source = known_.source;
  }

  void add(int triangle) {
    const TriangleLoci loci = triangle_loci(history_, triangle);
    const Reluctivity& law = history_.member->law(triangle).reluctivity;
    double area = 0.0, watts = 0.0;
    for (int q = 0; q < n_quadrature; ++q) {
      const Locus b = in_steel(loci, q, law, share_);
      watts += add_point(b, loci.weight[q] * share_ * steel_.density);
      add_waves(b, loci.weight[q]);
      area += loci.weight[q];
    }
    loss_.density.emplace_back(triangle, watts / area);
  }

  IronLoss finished() {
    if (loss_.total() > 0.0) loss_.beyond_trust /= loss_.total();
    const double copies = history_.copies();
    for (double* sum : {&loss_.hysteresis, &loss_.classical, &loss_.excess, &loss_.mass})
      *sum *= copies;
    if (changing_b2_ > 0.0) {
      const double omega = speed_ * std::sqrt(rate2_ / changing_b2_);
      loss_.frequency = omega / (2 * pi);
      if (steel_.resistivity > 0.0) loss_.skin_depth = skin_depth(omega);
      loss_.thick = loss_.skin_depth > 0.0 && steel_.thickness > 2 * loss_.skin_depth;
    }
    return loss_;
  }

 private:
  /// Loss at one point that stands for `mass` [kg/m].
  double add_point(const Locus& b, double mass) {
    const Eigen::ArrayXd rate2 = b.x_rate.square() + b.y_rate.square();
    const double frequency = speed_ / history_.period;
    const double hysteresis =
        known_.kh == 0.0 ? 0.0
                         : known_.kh * frequency *
                               hysteresis_per_cycle(b, known_.alpha, history_.cycle.half_wave);
    const double classical = classical_ * speed_ * speed_ * rate2.mean();
    // 8.763 = mean of |2π cos|^1.5 over a period.
    const double excess = known_.ke / 8.763 * std::pow(speed_, 1.5) * rate2.pow(0.75).mean();
    loss_.hysteresis += mass * hysteresis;
    loss_.classical += mass * classical;
    loss_.excess += mass * excess;
    loss_.mass += mass;
    const double peak = std::sqrt((b.x.square() + b.y.square()).maxCoeff());
    loss_.largest_b = std::max(loss_.largest_b, peak);
    if (peak > trusted_b) loss_.beyond_trust += mass * (hysteresis + classical + excess);
    return mass * (hysteresis + classical + excess);
  }

  void add_waves(const Locus& b, double area) {
    const double rest2 =
        history_.cycle.half_wave ? 0.0 : b.x.mean() * b.x.mean() + b.y.mean() * b.y.mean();
    const double b2 = (b.x.square() + b.y.square()).mean();
    rate2_ += area * (b.x_rate.square() + b.y_rate.square()).mean();
    changing_b2_ += area * (b2 - rest2);
    b2_ += area * b2;
    area_ += area;
  }

  double skin_depth(double omega) const {
    const Reluctivity sheet = reluctivity(steel_);
    return std::sqrt(2 * steel_.resistivity * sheet.without_energy(b2_ / area_).nu / omega);
  }

  const MemberHistory& history_;
  const Steel& steel_;
  double share_, speed_;
  Coefficients known_;
  double classical_ = 0.0;  // d²/(12 ρ ρm)
  IronLoss loss_;
  double rate2_ = 0.0, changing_b2_ = 0.0, b2_ = 0.0, area_ = 0.0;
};

IronLoss summed(const MemberHistory& history, const std::vector<int>& regions, const Steel& steel,
                double share, double phase_speed) {
  SteelSum sum(history, steel, share, phase_speed);
  for (int t : triangles_in(history, regions)) sum.add(t);
  return sum.finished();
}

}  // namespace

IronLoss iron_loss(const MemberHistory& history, const SheetStack& stack, double phase_speed) {
  const Steel& steel = stack.steel;
  if (stack.regions.empty() || steel.density <= 0.0 || !(sheet_is_known(steel) || steel.loss))
    throw std::invalid_argument(
        "a stack needs regions, density, and loss data or sheet thickness and resistivity");
  IronLoss loss = summed(history, stack.regions, steel, stack.stacking_factor, phase_speed);
  for (double* part : {&loss.hysteresis, &loss.classical, &loss.excess})
    *part *= stack.cutting_factor;
  for (auto& [triangle, density] : loss.density) density *= stack.cutting_factor;
  return loss;
}

IronLoss solid_hysteresis(const MemberHistory& history, const std::vector<int>& regions,
                          const Steel& steel, double phase_speed) {
  if (regions.empty() || steel.density <= 0.0)
    throw std::invalid_argument("solid steel needs regions and density");
  Steel solid = steel;
  solid.thickness = 0.0;
  if (solid.loss)
    solid.loss->kc = solid.loss->ke = 0.0;  // its eddy currents are another matter: solid_steel.h
  return summed(history, regions, solid, 1.0, phase_speed);
}

WrongStacking wrong_stacking(SheetsStacked stacked, double stacking_factor, double radial_thickness,
                             double width) {
  switch (stacked) {
    case SheetsStacked::along_axis:
      return {};
    case SheetsStacked::tangentially:
      return {(1 - stacking_factor) * width,
              "The sheets of the pole pieces are stacked tangentially: flux along the "
              "circumference crosses every coating and drives eddy currents in the full face of "
              "the sheets; neither is in the field or the loss computed here."};
    case SheetsStacked::radially:
      return {(1 - stacking_factor) * radial_thickness,
              "The sheets of the pole pieces are stacked radially: the main flux crosses every "
              "coating, which acts as one more air gap, and drives eddy currents in the full face "
              "of the sheets, so that the loss is nearly that of solid steel; neither is in the "
              "field or the sheet loss computed here."};
  }
  return {};
}

}  // namespace lodegear
