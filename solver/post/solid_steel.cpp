// solver/post/solid_steel.cpp — eddy currents in solid steel, between a bound and a rough estimate.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/solid_steel.h"

#include <algorithm>
#include <cmath>
#include <complex>

#include "materials/constants.h"
#include "solver/post/second_moments.h"

namespace lodegear {

double linear_plate_factor(double thickness, double skin_depth) {
  const double x = thickness / skin_depth;
  if (x < 0.1) return 1.0 - std::pow(x, 4) / 630;  // free of cancellation
  if (x > 40) return 3.0 / x;
  return 3.0 / x * (std::sinh(x) - std::sin(x)) / (std::cosh(x) - std::cos(x));
}

double saturating_plate_factor(double peak_b, double saturation) {
  return 4 / pi * std::min(1.0, peak_b / saturation);
}

namespace {

/// Mean flux density in a body, along its radius and its tangent, over the whole period.
struct MeanFlux {
  std::vector<double> radial, tangential;  // T
};

MeanFlux mean_flux(const MemberHistory& history, const std::vector<int>& triangles,
                   const SecondMoments& shape) {
  Eigen::VectorXd x = Eigen::VectorXd::Zero(history.samples()), y = x;
  for (int t : triangles) {
    const TriangleLoci loci = triangle_loci(history, t);
    x += loci.bx.transpose() * loci.weight / shape.area;
    y += loci.by.transpose() * loci.weight / shape.area;
  }
  const double angle = std::atan2(shape.centre[1], shape.centre[0]);
  MeanFlux flux;
  for (double sign : {1.0, -1.0}) {
    for (Eigen::Index i = 0; i < x.size(); ++i) {
      flux.radial.push_back(sign * (std::cos(angle) * x[i] + std::sin(angle) * y[i]));
      flux.tangential.push_back(sign * (std::cos(angle) * y[i] - std::sin(angle) * x[i]));
    }
    if (!history.cycle.half_wave) break;
  }
  return flux;
}

/// Amplitudes of the harmonics 1, 2, … of one period.
std::vector<double> amplitudes(const std::vector<double>& series) {
  const auto n = static_cast<int>(series.size());
  std::vector<double> list;
  for (int k = 1; 2 * k < n; ++k) {
    std::complex<double> sum = 0.0;
    for (int i = 0; i < n; ++i)
      sum += series[static_cast<std::size_t>(i)] * std::polar(1.0, -2 * pi * (k * i % n) / n);
    list.push_back(2.0 / n * std::abs(sum));
  }
  return list;
}

/// Weights (w k b_k)² of one component of the flux, with and without the reaction of the plate.
struct PlateSums {
  double plain = 0.0, linear = 0.0, saturating = 0.0;
};

class Plate {
 public:
  Plate(double resistivity, double mu, double omega_of_period, double saturation)
      : resistivity_(resistivity), mu_(mu), omega_(omega_of_period), saturation_(saturation) {}

  void add(double width, const std::vector<double>& series) {
    const std::vector<double> b = amplitudes(series);
    if (b.empty()) return;
    const double peak = *std::max_element(b.begin(), b.end());
    for (std::size_t i = 0; i < b.size(); ++i) {
      const double k = static_cast<double>(i) + 1;
      const double weight = std::pow(width * k * b[i], 2);
      const double delta = std::sqrt(2 * resistivity_ / (k * omega_ * mu_));
      sums.plain += weight;
      sums.linear += weight * linear_plate_factor(width, delta);
      sums.saturating +=
          saturation_ > 0.0 ? weight * saturating_plate_factor(peak, saturation_) : 0.0;
    }
  }

  PlateSums sums;

 private:
  double resistivity_, mu_, omega_, saturation_;
};

/// Three quarters of the polarisation at 100 kA/m (from memory); 0 for constant permeability.
double skin_saturation(const Reluctivity& law) {
  constexpr double h = 1e5;
  return law.linear() ? 0.0 : 0.75 * (flux_density_at(law, h) - mu0 * h);
}

std::vector<int> triangles_of(const MemberMesh& mesh, int region) {
  std::vector<int> list;
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    if (mesh.region[static_cast<std::size_t>(t)] == region) list.push_back(t);
  return list;
}

double mean_square_b(const MemberHistory& history, const std::vector<int>& triangles) {
  double sum = 0.0, area = 0.0;
  for (int t : triangles) {
    const TriangleLoci loci = triangle_loci(history, t);
    const Eigen::VectorXd b2 =
        (loci.bx.array().square() + loci.by.array().square()).rowwise().mean().matrix();
    sum += loci.weight.dot(b2);
    area += loci.weight.sum();
  }
  return area > 0.0 ? sum / area : 0.0;
}

void add_plates(SolidSteelLoss& loss, const MemberHistory& history, const SolidSteel& solid,
                double mu, double phase_speed) {
  const double omega = 2 * pi * std::abs(phase_speed) / history.period;
  const double saturation = skin_saturation(reluctivity(solid.steel));
  double linear = 0.0, saturating = 0.0;
  for (const BodyLoss& body : loss.resistance_limited.bodies) {
    const std::vector<int> triangles = triangles_of(history.member->mesh, body.region);
    const MeanFlux flux =
        mean_flux(history, triangles, second_moments(history.member->mesh, triangles));
    Plate plate(solid.conductor.resistivity, mu, omega, saturation);
    plate.add(body.width, flux.radial);
    plate.add(body.height, flux.tangential);
    if (plate.sums.plain <= 0.0) continue;
    const double watts = history.copies() * body.without_ends * body.end_factor;
    linear += watts * plate.sums.linear / plate.sums.plain;
    saturating += watts * plate.sums.saturating / plate.sums.plain;
  }
  loss.linear_plate = linear;
  if (saturation > 0.0) loss.saturating_plate = saturating;
}

/// How deep the flux of a ring's waves reaches: through the ring, or as an even band would that
/// holds as much of e^{−2pz/r} as there is. (theory 8.11)
double depth_in_ring(const EddyLoss& eddies) {
  const BodyLoss& ring = eddies.bodies.front();
  if (eddies.order <= 0.0) return ring.height;
  return std::min(ring.height, 1.5 * ring.width / (2 * pi) / eddies.order);
}

void add_ring_plate(SolidSteelLoss& loss, const SolidSteel& solid) {
  const EddyLoss& eddies = loss.resistance_limited;
  if (loss.skin_depth <= 0.0) return;
  // Flux enters by one face: half of a plate of twice that depth.
  loss.linear_plate = eddies.loss * linear_plate_factor(2 * loss.size, loss.skin_depth);
  const double saturation = skin_saturation(reluctivity(solid.steel));
  if (saturation <= 0.0) return;
  const double omega = 2 * pi * eddies.frequency;
  const double surface_a = std::sqrt(6 * solid.conductor.resistivity * eddies.without_ends /
                                     (omega * omega * loss.size * eddies.bodies.front().width));
  loss.saturating_plate = eddies.loss * saturating_plate_factor(surface_a / loss.size, saturation);
}

}  // namespace

SolidSteelLoss solid_steel_loss(const MemberHistory& history, const SolidSteel& solid,
                                double phase_speed) {
  SolidSteelLoss loss;
  const std::vector<int>& regions = solid.conductor.regions;
  loss.hysteresis = solid_hysteresis(history, regions, solid.steel, phase_speed);
  const double b2 = mean_square_b(history, triangles_in(history, regions));
  const double mu = 1.0 / reluctivity(solid.steel).without_energy(b2).nu;
  Conductor conductor = solid.conductor;
  conductor.mu_r = mu / mu0;
  loss.resistance_limited = eddy_loss(history, conductor, phase_speed);
  loss.skin_depth = loss.resistance_limited.skin_depth;
  for (const BodyLoss& body : loss.resistance_limited.bodies)
    loss.size = std::max({loss.size, body.height, body.width});
  if (conductor.closed_ring) loss.size = depth_in_ring(loss.resistance_limited);
  loss.thick = loss.skin_depth > 0.0 && loss.size > 2 * loss.skin_depth;
  if (conductor.closed_ring)
    add_ring_plate(loss, solid);
  else
    add_plates(loss, history, solid, mu, phase_speed);
  return loss;
}

}  // namespace lodegear
