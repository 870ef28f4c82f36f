// solver/motion/slip_motion.cpp — the members' motion in time: swinging, slipping, locking in
// again. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/slip_motion.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/constants.h"
#include "solver/motion/runge_kutta.h"

namespace lodegear {

namespace {

constexpr std::array<Member, 3> members = {Member::sun, Member::modulator, Member::ring};
constexpr double creep_part = 1e-4;

using State = std::array<double, 6>;  // angles, then speeds

class Run {
 public:
  Run(const GearSpring& spring, const MotionSetup& setup) : spring_(spring), setup_(setup) {
    for (Member m : members) {
      const ShaftLine& shaft = shaft_of(m);
      inertias_.of(m) = shaft.inertia;
      if (!(shaft.inertia > 0)) throw std::invalid_argument("a moment of inertia must be positive");
      largest_factor_ = std::max(largest_factor_, std::abs(spring.factor(m)));
    }
    kappa_ = mobility(spring, inertias_);
    if (!(kappa_ > 0)) throw std::invalid_argument("nothing can move: every member is held");
    // Of the whole well, so that a spring that is slack at rest has a time scale too.
    natural_ = std::sqrt(kappa_ * spring.potential_range() / 2);
    creep_ = setup.creep_speed > 0 ? setup.creep_speed : creep_part * natural_ / largest_factor_;
  }

  Motion run() {
    State y{};
    for (std::size_t i = 0; i < 3; ++i) {
      y[i] = setup_.shafts[i].start_angle;
      y[3 + i] = setup_.shafts[i].start_speed;
    }
    Motion result;
    const double start_angle = load_angle(y);
    double before = start_angle;
    result.samples.push_back(sample(0.0, y));
    result.complete = true;
    long steps = 0;
    for (int i = 1; i <= setup_.samples && result.complete; ++i) {
      const double from = setup_.duration * (i - 1) / setup_.samples;
      const double to = setup_.duration * i / setup_.samples;
      result.complete =
          integrate([this](double t, const State& at) { return slope(t, at); }, from, to, y,
                    scale(), setup_.tolerance, std::min(to - from, 0.01 / natural_),
                    [&](double t, const State& at) {
                      const double now = load_angle(at);
                      if (well(now) != well(before)) result.last_slip = t;
                      before = now;
                      ++steps;
                    },
                    std::max(1L, setup_.most_steps - steps));
      result.samples.push_back(sample(to, y));
      if (setup_.until_locked && is_locked(result.samples.back())) break;
    }
    finish(start_angle, result);
    return result;
  }

 private:
  const ShaftLine& shaft_of(Member m) const { return setup_.shafts[static_cast<std::size_t>(m)]; }

  // The turn of δ in which the gear is: it changes at the crests of U.
  static double well(double delta) { return std::floor(delta / (2 * pi) + 0.5); }

  double load_angle(const State& y) const {
    double delta = 0.0;
    for (std::size_t i = 0; i < 3; ++i) delta += spring_.factor(members[i]) * y[i];
    return delta;
  }
  double sliding_speed(const State& y) const {
    double speed = 0.0;
    for (std::size_t i = 0; i < 3; ++i) speed += spring_.factor(members[i]) * y[3 + i];
    return speed;
  }

  double outside(std::size_t i, double t, double speed) const {
    const ShaftLine& shaft = setup_.shafts[i];
    const double given = shaft.torque ? shaft.torque(t) : 0.0;
    return given - shaft.viscous * speed -
           shaft.dry_friction * std::clamp(speed / creep_, -1.0, 1.0);
  }

  State slope(double t, const State& y) const {
    const double delta = load_angle(y);
    const double braking = setup_.slide_damping * sliding_speed(y);
    State dy{};
    for (std::size_t i = 0; i < 3; ++i) {
      dy[i] = y[3 + i];
      const ShaftLine& shaft = setup_.shafts[i];
      if (std::isinf(shaft.inertia)) continue;
      dy[3 + i] = (spring_.torque(members[i], delta) - spring_.factor(members[i]) * braking +
                   outside(i, t, y[3 + i])) /
                  shaft.inertia;
    }
    return dy;
  }

  // One for angles and speeds that change δ by a radian, and by a radian in natural time.
  State scale() const {
    State s{};
    for (std::size_t i = 0; i < 3; ++i) {
      const double factor = std::max(1, std::abs(spring_.factor(members[i])));
      s[i] = 1.0 / factor;
      s[3 + i] = natural_ / factor;
    }
    return s;
  }

  MotionSample sample(double t, const State& y) const {
    MotionSample s;
    s.time = t;
    s.load_angle = load_angle(y);
    s.sliding_speed = sliding_speed(y);
    for (std::size_t i = 0; i < 3; ++i) {
      s.angle[i] = y[i];
      s.speed[i] = y[3 + i];
      s.torque[i] = spring_.torque(members[i], s.load_angle) -
                    spring_.factor(members[i]) * setup_.slide_damping * s.sliding_speed;
    }
    return s;
  }

  void finish(double start_angle, Motion& result) const {
    const MotionSample& end = result.samples.back();
    result.poles_slipped = static_cast<int>(well(end.load_angle) - well(start_angle));
    result.locked = is_locked(end);
    if (result.locked) return;
    const MotionSample& then = result.samples[result.samples.size() * 3 / 4];
    if (end.time > then.time)
      result.ratchet_frequency =
          std::abs(end.load_angle - then.load_angle) / (2 * pi) / (end.time - then.time);
  }

  // Kinetic and magnetic energy of the swing against the crests on both sides, under the torques
  // that act now; friction only takes energy away.
  bool is_locked(const MotionSample& s) const {
    std::array<double, 3> torques{};
    for (std::size_t i = 0; i < 3; ++i)
      torques[i] = setup_.shafts[i].torque ? setup_.shafts[i].torque(s.time) : 0.0;
    for (std::size_t i = 0; i < 3; ++i)
      if (!std::isinf(setup_.shafts[i].inertia)) torques[i] -= steady_friction(i, s);
    const double load = load_seen(spring_, inertias_, torques);
    const std::optional<double> rest = spring_.wind_up(load);
    if (!rest) return false;
    const auto energy = [&](double delta) { return spring_.potential(delta) - load * delta; };
    const double above = *spring_.crest(load), below = above - 2 * pi;
    const double turn = 2 * pi * std::floor((s.load_angle - below) / (2 * pi));
    const double delta = s.load_angle - turn;  // between the crests
    const double total = s.sliding_speed * s.sliding_speed / (2 * kappa_) + energy(delta);
    return total < std::min(energy(above), energy(below));
  }

  // Friction at the speed that a member has in step with those that are held.
  double steady_friction(std::size_t i, const MotionSample& s) const {
    const double in_step =
        s.speed[i] -
        (spring_.factor(members[i]) == 0
             ? 0.0
             : spring_.factor(members[i]) / setup_.shafts[i].inertia / kappa_ * s.sliding_speed);
    const ShaftLine& shaft = setup_.shafts[i];
    return shaft.viscous * in_step + shaft.dry_friction * std::clamp(in_step / creep_, -1.0, 1.0);
  }

  const GearSpring& spring_;
  const MotionSetup& setup_;
  Inertias inertias_;
  double kappa_ = 0.0, natural_ = 1.0, creep_ = 0.0;
  int largest_factor_ = 1;
};

}  // namespace

Motion motion(const GearSpring& spring, const MotionSetup& setup) {
  return Run(spring, setup).run();
}

double pull_in_speed(const GearSpring& spring, MotionSetup setup, Member driven, double highest,
                     int starts) {
  ShaftLine& shaft = setup.shafts[static_cast<std::size_t>(driven)];
  shaft.inertia = held_fast;
  setup.until_locked = true;
  const double pole = 2 * pi / std::abs(spring.factor(driven));
  const auto locks = [&](double speed) {
    shaft.start_speed = speed;
    for (int i = 0; i < starts; ++i) {
      shaft.start_angle = pole * i / starts;
      if (!motion(spring, setup).locked) return false;
    }
    return true;
  };
  if (locks(highest)) return highest;
  double low = 0.0, high = highest;
  for (int step = 0; step < 12; ++step) {
    const double middle = 0.5 * (low + high);
    (locks(middle) ? low : high) = middle;
  }
  return low;
}

}  // namespace lodegear
