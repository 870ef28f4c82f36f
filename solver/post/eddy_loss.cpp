// solver/post/eddy_loss.cpp — eddy currents in magnets, cans and other solid conductors.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/eddy_loss.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <stdexcept>

#include "materials/constants.h"
#include "solver/fem/element_table.h"
#include "solver/post/end_factors.h"
#include "solver/post/second_moments.h"

namespace lodegear {

double slip_of(const LossCycle& cycle, TurnsWith turns_with, Member mesh_of) {
  const double rate = turns_with == TurnsWith::sun         ? cycle.rate.sun
                      : turns_with == TurnsWith::modulator ? cycle.rate.modulator
                      : turns_with == TurnsWith::ring      ? cycle.rate.ring
                                                           : 0.0;
  return rate - cycle.rate.of(mesh_of);
}

double resistivity_at(double resistivity_20, double coefficient, double celsius) {
  return resistivity_20 * (1.0 + coefficient * (celsius - 20.0));
}

namespace {

using Series = Eigen::Matrix<double, 1, Eigen::Dynamic>;

/// Ȧ per rad of phase, at the quadrature points of one triangle, felt by the conductor.
struct Driving {
  std::array<ElementPoint, n_quadrature> points;
  TimeSeries e;  // row = point
};

Driving driving(const MemberHistory& history, int t, double slip) {
  const MemberMesh& mesh = history.member->mesh;
  Driving d{element_points(mesh, t), TimeSeries::Zero(n_quadrature, history.samples())};
  for (int q = 0; q < n_quadrature; ++q) {
    const auto& at = triangle_quadrature()[static_cast<std::size_t>(q)];
    const ElementPoint& p = d.points[static_cast<std::size_t>(q)];
    const Eigen::Matrix<double, 6, 1> phi = shape_values(at.xi, at.eta);
    // A point that turns ahead of the mesh also sees ∂A/∂θ = r B_r = x·B.
    const Eigen::Matrix<double, 6, 1> around = slip * (p.x[0] * p.bx + p.x[1] * p.by);
    for (int i = 0; i < 6; ++i) {
      const int row = history.row[static_cast<std::size_t>(mesh.triangles(t, i))];
      d.e.row(q) += phi[i] * history.a_rate.row(row);
      if (slip != 0.0) d.e.row(q) += around[i] * history.a.row(row);
    }
  }
  return d;
}

/// ∂/∂θ in the middle of a triangle, of the quadratic through the values at its points.
Series around_axis(const Driving& d) {
  using Six = Eigen::Matrix<double, n_quadrature, n_quadrature>;
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  for (const ElementPoint& p : d.points) centre += p.x / n_quadrature;
  const double scale = (d.points[0].x - centre).norm();
  Six powers;
  for (int q = 0; q < n_quadrature; ++q) {
    const Eigen::Vector2d x = (d.points[static_cast<std::size_t>(q)].x - centre) / scale;
    powers.row(q) << 1.0, x[0], x[1], x[0] * x[0], x[0] * x[1], x[1] * x[1];
  }
  const Six fit = powers.inverse();
  return (centre[0] * fit.row(2) - centre[1] * fit.row(1)) / scale * d.e;
}

/// Integrals over bodies of squares, mean over time.
struct Squares {
  double loss = 0.0;                                   // (Ȧ − ⟨Ȧ⟩)²
  double coarse = 0.0, in_time = 0.0, in_angle = 0.0;  // element means: itself, ∂/∂t, ∂/∂θ
};

class EddySum {
 public:
  EddySum(const MemberHistory& history, double slip)
      : history_(history),
        slip_(slip),
        rate_(spectral_rate(history.samples(), history.period, history.cycle.half_wave)) {}

  void add(int t, const Series& mean) {
    Driving d = driving(history_, t, slip_);
    d.e.rowwise() -= mean;
    Series middle = Series::Zero(history_.samples());
    double area = 0.0;
    for (int q = 0; q < n_quadrature; ++q) {
      const double w = d.points[static_cast<std::size_t>(q)].weight;
      squares.loss += w * mean_square(d.e.row(q));
      middle += w * d.e.row(q);
      area += w;
    }
    middle /= area;
    const Series angle = around_axis(d);
    const Series time = middle * rate_ + slip_ * angle;
    squares.coarse += area * mean_square(middle);
    squares.in_time += area * mean_square(time);
    squares.in_angle += area * mean_square(angle);
  }

  Squares squares;

 private:
  static double mean_square(const Series& x) {
    return x.squaredNorm() / static_cast<double>(x.size());
  }
  const MemberHistory& history_;
  double slip_;
  Eigen::MatrixXd rate_;
};

Series mean_in_body(const MemberHistory& history, const std::vector<int>& triangles) {
  Series sum = Series::Zero(history.samples());
  double area = 0.0;
  for (int t : triangles) {
    const Driving d = driving(history, t, 0.0);
    for (int q = 0; q < n_quadrature; ++q) {
      sum += d.points[static_cast<std::size_t>(q)].weight * d.e.row(q);
      area += d.points[static_cast<std::size_t>(q)].weight;
    }
  }
  return sum / area;
}

Series mean_in_ring(const MemberHistory& history, const std::vector<int>& regions) {
  Series sum = Series::Zero(history.samples());
  double area = 0.0;
  for (int r : regions) {
    sum += history.region_integral_rate.row(r);
    area += history.region_area[r];
  }
  return sum / area;
}

double root_ratio(double over, double under) { return under > 0.0 ? std::sqrt(over / under) : 0.0; }

/// Frequency, order and what they say of the neglected field of the currents.
void add_waves(EddyLoss& loss, const Squares& squares, const Conductor& conductor,
               double phase_speed) {
  const double omega = root_ratio(squares.in_time, squares.coarse) * std::abs(phase_speed);
  loss.frequency = omega / (2 * pi);
  loss.order = root_ratio(squares.in_angle, squares.coarse);
  if (omega > 0.0)
    loss.skin_depth = std::sqrt(2 * conductor.resistivity / (omega * mu0 * conductor.mu_r));
}

EddyLoss bodies_loss(const MemberHistory& history, const Conductor& conductor, double phase_speed) {
  std::map<int, std::vector<int>> bodies;
  const MemberMesh& mesh = history.member->mesh;
  std::vector<int> kept = bodies_that_stand_for_all(history, conductor.regions);
  std::erase_if(kept, [&](int r) {  // where a magnet is missing there is air
    return history.member->laws[static_cast<std::size_t>(r)].magnetisation.strength == 0.0;
  });
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    const int region = mesh.region[static_cast<std::size_t>(t)];
    if (std::find(kept.begin(), kept.end(), region) != kept.end()) bodies[region].push_back(t);
  }
  EddyLoss total;
  Squares all;
  double largest = 0.0;
  for (const auto& [region, triangles] : bodies) {
    EddySum sum(history, 0.0);
    const Series mean = mean_in_body(history, triangles);
    for (int t : triangles) sum.add(t, mean);
    const SecondMoments shape = second_moments(mesh, triangles);
    BodyLoss body{region, shape.width(), shape.height(),
                  sum.squares.loss * phase_speed * phase_speed / conductor.resistivity,
                  plate_end_factor(shape.width(), conductor.row_length)};
    total.without_ends += history.copies() * body.without_ends;
    total.loss += history.copies() * body.without_ends * body.end_factor;
    largest = std::max({largest, body.width, body.height});
    total.bodies.push_back(body);
    all.coarse += sum.squares.coarse;
    all.in_time += sum.squares.in_time;
  }
  add_waves(total, all, conductor, phase_speed);
  if (total.skin_depth > 0.0) total.reaction = 0.25 * std::pow(largest / total.skin_depth, 2);
  return total;
}

EddyLoss ring_loss(const MemberHistory& history, const Conductor& conductor, double phase_speed) {
  EddySum sum(history, conductor.slip);
  const Series mean = mean_in_ring(history, conductor.regions);
  for (int t : triangles_in(history, conductor.regions)) sum.add(t, mean);
  const RingSize size = ring_size(history.member->mesh, conductor.regions);

  EddyLoss total;
  add_waves(total, sum.squares, conductor, phase_speed);
  BodyLoss ring{
      conductor.regions.front(), 2 * pi * size.radius, size.thickness,
      history.copies() * sum.squares.loss * phase_speed * phase_speed / conductor.resistivity,
      cylinder_end_factor(total.order, size.radius, conductor.row_length, conductor.overhang)};
  total.without_ends = ring.without_ends;
  total.loss = ring.without_ends * ring.end_factor;
  total.bodies.push_back(ring);
  if (total.order > 0.0)
    total.reaction = mu0 * conductor.mu_r * 2 * pi * total.frequency * size.thickness *
                     size.radius / (2 * total.order * conductor.resistivity);
  return total;
}

}  // namespace

EddyLoss eddy_loss(const MemberHistory& history, const Conductor& conductor, double phase_speed) {
  if (conductor.regions.empty() || conductor.resistivity <= 0.0 || conductor.row_length <= 0.0)
    throw std::invalid_argument("a conductor needs regions, resistivity and length");
  return conductor.closed_ring ? ring_loss(history, conductor, phase_speed)
                               : bodies_loss(history, conductor, phase_speed);
}

}  // namespace lodegear
