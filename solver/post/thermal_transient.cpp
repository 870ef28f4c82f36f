// solver/post/thermal_transient.cpp — how a thermal network warms and cools in time.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/post/thermal_network.h"

namespace lodegear {

using Eigen::MatrixXd;
using Eigen::VectorXd;

FrozenNetwork::FrozenNetwork(const ThermalNetwork& network, const VectorXd& at)
    : massive_(nodes_where(network, [](const auto& n) { return !n.fixed && n.capacity > 0; })),
      massless_(nodes_where(network, [](const auto& n) { return !n.fixed && n.capacity <= 0; })),
      fixed_(uniform_start(network, 0.0)) {
  if (massive_.empty()) throw std::invalid_argument("nothing in the network stores heat");
  const MatrixXd k = conductance_matrix(network, conductances(network, at));
  sources_ = lodegear::sources(network);
  from_fixed_ = -k * fixed_;
  MatrixXd reduced = k(massive_, massive_);
  if (!massless_.empty()) {  // BLAS does not take empty matrices
    const Eigen::FullPivLU<MatrixXd> factor(k(massless_, massless_));
    if (!factor.isInvertible())
      throw std::invalid_argument("a node without capacity hangs on nothing");
    settle_ = factor.inverse();
    spread_ = settle_ * k(massless_, massive_);
    reduced -= k(massive_, massless_) * spread_;
  }
  root_capacity_.resize(static_cast<Eigen::Index>(massive_.size()));
  for (Eigen::Index i = 0; i < root_capacity_.size(); ++i)
    root_capacity_[i] = std::sqrt(
        network.nodes[static_cast<std::size_t>(massive_[static_cast<std::size_t>(i)])].capacity);
  const VectorXd inverse_root = root_capacity_.cwiseInverse();
  const MatrixXd scaled = inverse_root.asDiagonal() * reduced * inverse_root.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(0.5 * (scaled + scaled.transpose()));
  decay_ = eigen.eigenvalues();
  modes_ = eigen.eigenvectors();
}

VectorXd FrozenNetwork::after(const VectorXd& start, double seconds) const {
  return after(start, seconds, sources_);
}

VectorXd FrozenNetwork::after(const VectorXd& start, double seconds,
                              const VectorXd& sources) const {
  const VectorXd load = sources + from_fixed_;
  const VectorXd settled_load = load(massless_);
  VectorXd driven = load(massive_);
  if (!massless_.empty()) driven -= spread_.transpose() * settled_load;
  const VectorXd scaled_start = root_capacity_.cwiseProduct(start(massive_));
  VectorXd amplitude = modes_.transpose() * scaled_start;
  const VectorXd drive = modes_.transpose() * driven.cwiseQuotient(root_capacity_);
  for (Eigen::Index i = 0; i < decay_.size(); ++i) {
    const double x = decay_[i] * seconds;
    // (1 − e^−x)/x, which is 1 for an insulated mode
    const double ramp = std::abs(x) < 1e-12 ? 1.0 : -std::expm1(-x) / x;
    amplitude[i] = amplitude[i] * std::exp(-x) + drive[i] * seconds * ramp;
  }
  const VectorXd massive = (modes_ * amplitude).cwiseQuotient(root_capacity_);
  VectorXd t = fixed_;
  t(massive_) = massive;
  if (!massless_.empty()) t(massless_) = settle_ * settled_load - spread_ * massive;
  return t;
}

VectorXd FrozenNetwork::time_constants() const {
  const double slowest = 1e-12 * (decay_.size() ? decay_.maxCoeff() : 0.0);
  VectorXd constants(decay_.size());
  for (Eigen::Index i = 0; i < decay_.size(); ++i)
    constants[i] = decay_[i] > slowest ? 1.0 / decay_[i] : std::numeric_limits<double>::infinity();
  return constants;  // eigenvalues ascend, so the slowest is first
}

namespace {

// One stretch of time with conductances held.
struct Step {
  const FrozenNetwork& network;
  const VectorXd& start;
  double from, length;
};

VectorXd march(const ThermalNetwork& network, VectorXd t, double end, double tolerance,
               const std::function<bool(const Step&)>& visit) {
  const bool exact = !network.has_laws();
  double now = 0.0, length = exact ? end : std::min(end, 10.0);
  while (now < end) {
    length = std::min(length, end - now);
    const FrozenNetwork at_start(network, t);
    const FrozenNetwork at_middle =
        exact ? at_start : FrozenNetwork(network, at_start.after(t, length / 2));
    const VectorXd next = at_middle.after(t, length);
    const double moved = exact ? 0.0 : (next - at_start.after(t, length)).cwiseAbs().maxCoeff();
    const bool good = moved <= tolerance || length < 1e-9 * end;
    if (good) {
      if (!visit({at_middle, t, now, length})) return next;
      now = length == end - now ? end : now + length;
      t = next;
    }
    length *= std::clamp(0.8 * std::sqrt(tolerance / std::max(moved, 1e-12)), 0.2, 3.0);
  }
  return t;
}

}  // namespace

HeatingCurve heating_curve(const ThermalNetwork& network, const VectorXd& start,
                           const std::vector<double>& times, double tolerance) {
  if (!std::is_sorted(times.begin(), times.end()) || (!times.empty() && times.front() < 0))
    throw std::invalid_argument("times of a heating curve must ascend from zero");
  HeatingCurve curve{times, {}};
  if (times.empty()) return curve;
  const FrozenNetwork beginning(network, start);
  while (curve.temperatures.size() < times.size() && times[curve.temperatures.size()] == 0.0)
    curve.temperatures.push_back(beginning.after(start, 0.0));
  march(network, start, times.back(), tolerance, [&](const Step& step) {
    for (std::size_t i = curve.temperatures.size();
         i < times.size() && times[i] <= step.from + step.length; ++i)
      curve.temperatures.push_back(step.network.after(step.start, times[i] - step.from));
    return true;
  });
  while (curve.temperatures.size() < times.size())  // round-off of the last time
    curve.temperatures.push_back(curve.temperatures.back());
  return curve;
}

std::optional<LimitReached> first_limit(const ThermalNetwork& network, const VectorXd& start,
                                        const std::vector<TemperatureLimit>& limits, double longest,
                                        double tolerance) {
  std::optional<LimitReached> first;
  const auto passed = [&](const VectorXd& t) {
    return std::find_if(limits.begin(), limits.end(), [&](const TemperatureLimit& limit) {
      return t[limit.node] > limit.celsius;
    });
  };
  const VectorXd settled = FrozenNetwork(network, start).after(start, 0.0);
  if (const auto now = passed(settled); now != limits.end()) return LimitReached{*now, 0.0};
  march(network, start, longest, tolerance, [&](const Step& step) {
    constexpr int looks = 32;
    for (int i = 1; i <= looks; ++i) {
      double low = step.length * (i - 1) / looks, high = step.length * i / looks;
      auto limit = passed(step.network.after(step.start, high));
      if (limit == limits.end()) continue;
      for (int round = 0; round < 60; ++round) {
        const double middle = 0.5 * (low + high);
        const auto there = passed(step.network.after(step.start, middle));
        (there == limits.end() ? low : high) = middle;
        if (there != limits.end()) limit = there;
      }
      first = LimitReached{*limit, step.from + high};
      return false;
    }
    return true;
  });
  return first;
}

PeriodicHeat periodic_heat(const ThermalNetwork& network, const std::vector<HeatInterval>& cycle) {
  if (cycle.empty()) throw std::invalid_argument("a cycle needs intervals");
  double period = 0.0;
  VectorXd mean = VectorXd::Zero(static_cast<Eigen::Index>(network.nodes.size()));
  for (const HeatInterval& interval : cycle) {
    if (interval.duration <= 0) throw std::invalid_argument("every interval must last");
    period += interval.duration;
    mean += interval.duration * interval.sources;
  }
  ThermalNetwork averaged = network;
  for (Eigen::Index i = 0; i < mean.size(); ++i)
    averaged.nodes[static_cast<std::size_t>(i)].source = mean[i] / period;
  const VectorXd centre = steady_heat(averaged).temperatures;
  const FrozenNetwork frozen(network, centre);
  const auto once_around = [&](VectorXd t) {
    for (const HeatInterval& interval : cycle)
      t = frozen.after(t, interval.duration, interval.sources);
    return t;
  };
  // One cycle is an affine map of the start; its fixed point is the periodic state.
  const Eigen::Index n = mean.size();
  const VectorXd image = once_around(centre);
  MatrixXd map(n, n);
  for (Eigen::Index j = 0; j < n; ++j)
    map.col(j) = once_around(centre + VectorXd::Unit(n, j)) - image;
  const VectorXd start =
      centre + (MatrixXd::Identity(n, n) - map).partialPivLu().solve(image - centre);
  PeriodicHeat heat{{}, start, start};
  VectorXd t = start;
  for (const HeatInterval& interval : cycle) {
    heat.starts.push_back(t);
    constexpr int looks = 32;
    for (int i = 0; i <= looks; ++i) {
      const VectorXd look = frozen.after(t, interval.duration * i / looks, interval.sources);
      heat.coolest = heat.coolest.cwiseMin(look);
      heat.hottest = heat.hottest.cwiseMax(look);
    }
    t = frozen.after(t, interval.duration, interval.sources);
  }
  return heat;
}

}  // namespace lodegear
