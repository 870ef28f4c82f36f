// solver/motion/gear_spring.cpp — the gear as a spring between its members: stiffness, wind-up,
// natural frequencies, sudden loads. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/gear_spring.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/constants.h"
#include "solver/motion/runge_kutta.h"

namespace lodegear {

namespace {

// Steps of the tables over a period: cubic pieces between them err by 1e-8 of a 40th order.
constexpr int table_steps = 4096;
constexpr double table_step = 2 * pi / table_steps;

// τ at even load angles, without its mean.
PeriodicCurve tau_curve(const PeriodicCurve& torque, int factor) {
  if (factor == 0) throw std::invalid_argument("a spring needs a torque of a member that is there");
  std::vector<double> samples;
  const int n = 2 * torque.n_orders() + 2;
  for (int i = 0; i < n; ++i)
    samples.push_back(-(torque.at(static_cast<double>(i) / n) - torque.mean()) / factor);
  return PeriodicCurve(std::move(samples));
}

// The cubic over 0 … 1 with values u0, u1 and slopes d0, d1 at its ends.
double cubic(double s, double u0, double u1, double d0, double d1) {
  return u0 + s * (d0 + s * (3 * (u1 - u0) - 2 * d0 - d1 + s * (2 * (u0 - u1) + d0 + d1)));
}

// Where an angle falls in a table over a turn.
struct TablePlace {
  std::size_t i;
  double s;  // 0 … 1 beyond i
  explicit TablePlace(double angle) {
    const double turns = angle / (2 * pi), at = (turns - std::floor(turns)) * table_steps;
    i = std::min(static_cast<std::size_t>(at), static_cast<std::size_t>(table_steps - 1));
    s = at - static_cast<double>(i);
  }
};

// Into −π … π.
double near_zero(double angle) { return std::remainder(angle, 2 * pi); }

// Where τ − load changes sign between two angles, by bisection.
double crossing(const GearSpring& spring, double load, double from, double to) {
  const bool rises = spring.tau(from) < load;
  for (int step = 0; step < 80; ++step) {
    const double middle = 0.5 * (from + to);
    ((spring.tau(middle) < load) == rises ? from : to) = middle;
  }
  return 0.5 * (from + to);
}

// Work left over on the way to the crest after a load came on at `start`; negative = it topples.
double work_to_crest(const GearSpring& spring, double start, double load) {
  const double crest = *spring.crest(load);
  return spring.potential(crest) - spring.potential(start) - load * (crest - start);
}

// Whether a load that comes on at once carries δ over the crest, with damping; κ = 1.
bool topples(const GearSpring& spring, double start, double load, double damping_rate) {
  const double crest = *spring.crest(load);
  std::array<double, 2> y = {start, 0.0};
  bool over = false;
  const double period = 2 * pi / std::sqrt(spring.slope(0.0));
  const auto slope = [&](double, const std::array<double, 2>& at) {
    const bool stopped = over || (at[1] < 0 && at[0] > start);  // decided: let the rest be quick
    return stopped ? std::array<double, 2>{0.0, 0.0}
                   : std::array<double, 2>{at[1], load - spring.tau(at[0]) - damping_rate * at[1]};
  };
  integrate(slope, 0.0, 20 * period, y, {1.0, 2 * pi / period}, 1e-8, 1e-3 * period,
            [&](double, const std::array<double, 2>& at) { over = over || at[0] > crest; });
  return over;
}

}  // namespace

GearSpring::GearSpring(int sun, int modulator, int ring, Member member,
                       const PeriodicCurve& torque_on)
    : curve_(tau_curve(torque_on, member == Member::sun    ? sun
                                  : member == Member::ring ? ring
                                                           : -modulator)),
      factors_{sun, -modulator, ring},
      peak_(maximum(curve_)),
      trough_(minimum(curve_)) {
  for (int i = 0; i <= table_steps; ++i) {
    const double turns = static_cast<double>(i % table_steps) / table_steps;
    tau_.push_back(curve_.at(turns));
    tau_slope_.push_back(curve_.slope(turns) / (2 * pi));
  }
  potential_.push_back(0.0);
  for (std::size_t i = 0; i < table_steps; ++i)  // exact for the cubic between the entries
    potential_.push_back(potential_[i] +
                         table_step * (0.5 * (tau_[i] + tau_[i + 1]) +
                                       table_step / 12 * (tau_slope_[i] - tau_slope_[i + 1])));
  const auto [low, high] = std::minmax_element(potential_.begin(), potential_.end());
  range_ = *high - *low;
  const double least = *low;
  for (double& u : potential_) u -= least;
}

GearSpring GearSpring::sine(int sun, int modulator, int ring, Member member, double peak_torque) {
  const int factor = member == Member::sun ? sun : member == Member::ring ? ring : -modulator;
  std::vector<double> samples;
  for (int i = 0; i < 8; ++i)
    samples.push_back((factor > 0 ? -peak_torque : peak_torque) * std::sin(2 * pi * i / 8));
  return {sun, modulator, ring, member, PeriodicCurve(samples)};
}

GearSpring GearSpring::reversed() const {
  std::vector<double> samples;
  const int n = 2 * curve_.n_orders() + 2;
  const Member member = factor(Member::sun) != 0 ? Member::sun : Member::ring;
  for (int i = 0; i < n; ++i)
    samples.push_back(factor(member) * curve_.at(-static_cast<double>(i) / n));
  return {factors_[0], -factors_[1], factors_[2], member, PeriodicCurve(samples)};
}

double GearSpring::tau(double delta) const {
  const TablePlace at(delta);
  return cubic(at.s, tau_[at.i], tau_[at.i + 1], table_step * tau_slope_[at.i],
               table_step * tau_slope_[at.i + 1]);
}

double GearSpring::slope(double delta) const { return curve_.slope(delta / (2 * pi)) / (2 * pi); }

double GearSpring::potential(double delta) const {
  const TablePlace at(delta);
  return cubic(at.s, potential_[at.i], potential_[at.i + 1], table_step * tau_[at.i],
               table_step * tau_[at.i + 1]);
}

double GearSpring::stiffness(Member member, double delta) const {
  return static_cast<double>(factor(member)) * factor(member) * slope(delta);
}

double GearSpring::peak_angle() const { return near_zero(2 * pi * peak_.at); }
double GearSpring::trough_angle() const { return near_zero(2 * pi * trough_.at); }

std::optional<double> GearSpring::wind_up(double tau_load) const {
  if (tau_load >= peak_.value || tau_load <= trough_.value) return std::nullopt;
  return crossing(*this, tau_load, trough_angle(), peak_angle());
}

std::optional<double> GearSpring::crest(double tau_load) const {
  if (tau_load >= peak_.value || tau_load <= trough_.value) return std::nullopt;
  return crossing(*this, tau_load, peak_angle(), trough_angle() + 2 * pi);
}

double mobility(const GearSpring& spring, const Inertias& inertias) {
  double sum = 0.0;
  for (Member m : {Member::sun, Member::modulator, Member::ring})
    sum += std::pow(spring.factor(m), 2) / inertias.of(m);
  return sum;
}

double natural_frequency(const GearSpring& spring, const Inertias& inertias, double delta) {
  return std::sqrt(std::max(0.0, mobility(spring, inertias) * spring.slope(delta))) / (2 * pi);
}

double load_seen(const GearSpring& spring, const Inertias& inertias,
                 const std::array<double, 3>& torques) {
  double sum = 0.0;
  for (Member m : {Member::sun, Member::modulator, Member::ring})
    sum += spring.factor(m) * torques[static_cast<std::size_t>(m)] / inertias.of(m);
  return sum / mobility(spring, inertias);
}

double largest_sudden_load(const GearSpring& spring, double before, double damping) {
  const std::optional<double> start = spring.wind_up(before);
  if (!start) throw std::invalid_argument("the load before is already more than the gear holds");
  const double rate = 2 * damping * std::sqrt(spring.slope(0.0));
  double low = before, high = spring.peak_tau() * (1 - 1e-12);
  const int steps = damping > 0 ? 30 : 60;
  for (int step = 0; step < steps; ++step) {
    const double load = 0.5 * (low + high);
    const bool slips =
        damping > 0 ? topples(spring, *start, load, rate) : work_to_crest(spring, *start, load) < 0;
    (slips ? high : low) = load;
  }
  return low;
}

double lock_in_speed(const GearSpring& spring, double kappa) {
  return std::sqrt(2 * kappa * spring.potential_range());
}

double lock_in_load(const GearSpring& spring, double kappa, double damping_rate) {
  double mean = 0.0;
  for (int i = 0; i < table_steps; ++i) {
    const double u = spring.potential(2 * pi * (i + 0.5) / table_steps);
    mean += std::sqrt(2 * kappa * std::max(0.0, spring.potential_range() - u)) / table_steps;
  }
  return damping_rate / kappa * mean;
}

}  // namespace lodegear
