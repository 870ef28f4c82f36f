// solver/motion/overload.cpp — an overload comes on, the gear slips, the load falls back: does it
// lock in again? SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/overload.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/constants.h"

namespace lodegear {

namespace {

constexpr double poles_at_most = 3000.0;
constexpr double poles_while_standing = 10.0;
constexpr double samples_a_pole = 48.0;
constexpr int samples_at_most = 20000;
// A standing shaft creeps so fast, of the natural frequency. It leaves a mean torque of half as
// much of the slip torque, times the natural over the sliding frequency; steps are as many more as
// it is smaller. Whether it locks in does not ask for as small a one.
constexpr double creep = 1e-3, creep_while_pulled_in = 1e-2;
constexpr double tolerance = 1e-6;

std::size_t at(Member m) { return static_cast<std::size_t>(m); }
double sign(double x) { return x < 0 ? -1.0 : 1.0; }

double output_speed(const GearSpring& spring, const Overload& o) {
  return -spring.factor(o.input) * o.input_speed / spring.factor(o.output);
}

double kappa_of(const GearSpring& spring, const Overload& o) {
  Inertias inertias;
  inertias.of(o.input) = o.input_inertia;
  inertias.of(o.output) = o.output_inertia;
  return mobility(spring, inertias);
}

/// Torque from outside that the output meets in step, with its sign.
double resisting(const GearSpring& spring, const Overload& o, double load) {
  return -sign(output_speed(spring, o)) * (load + o.drag);
}

MotionSetup setup_of(const GearSpring& spring, const Overload& o, double load,
                     double creep_part = creep) {
  MotionSetup setup;
  setup.slide_damping = o.slide_damping;
  setup.tolerance = tolerance;
  ShaftLine& input = setup.shafts[at(o.input)];
  ShaftLine& output = setup.shafts[at(o.output)];
  input.inertia = o.input_inertia;
  if (!std::isinf(o.input_inertia)) {  // the drive's torque in step under the usual load
    const double torque =
        spring.factor(o.input) * resisting(spring, o, o.load) / spring.factor(o.output);
    input.torque = [torque](double) { return torque; };
  }
  output.inertia = o.output_inertia;
  output.dry_friction = o.drag + (o.brakes ? load : 0.0);
  if (!o.brakes) {
    const double torque = -sign(output_speed(spring, o)) * load;
    output.torque = [torque](double) { return torque; };
  }
  const double kappa = kappa_of(spring, o);
  setup.creep_speed =
      creep_part * 2 * pi / swing_period(spring, kappa) / std::abs(spring.factor(o.output));
  return setup;
}

void start_from(const MotionSample& sample, MotionSetup& setup) {
  for (std::size_t i = 0; i < 3; ++i) {
    setup.shafts[i].start_angle = sample.angle[i];
    setup.shafts[i].start_speed = sample.speed[i];
  }
}

/// The time base of a run: the faster of poles passing and swings.
struct Times {
  double pole, swing;
  double faster() const { return std::min(pole, swing); }
  double slower() const { return std::max(pole, swing); }
};

Times times_of(const GearSpring& spring, const Overload& o) {
  return {1 / standing_ratchet_frequency(spring, o.input, o.input_speed),
          swing_period(spring, kappa_of(spring, o))};
}

int samples_for(double duration, const Times& times) {
  return static_cast<int>(std::clamp(std::ceil(samples_a_pole * duration / times.faster()), 48.0,
                                     static_cast<double>(samples_at_most)));
}

/// Until the output, without help from the gear, stands; then ten poles more.
double usual_duration(const GearSpring& spring, const Overload& o, const Times& times) {
  const double stops = o.output_inertia * std::abs(output_speed(spring, o)) / (o.overload + o.drag);
  return std::clamp(stops + poles_while_standing * times.pole, 2 * times.swing,
                    longest_overload(spring, o));
}

/// Time at which δ passes from one turn to the next between two samples, as a part of the step.
struct Passing {
  std::size_t before;
  double part;
};

std::vector<Passing> passings(const std::vector<MotionSample>& samples, std::size_t from) {
  std::vector<Passing> all;
  for (std::size_t i = from; i + 1 < samples.size(); ++i) {
    const double a = samples[i].load_angle / (2 * pi) + 0.5;
    const double b = samples[i + 1].load_angle / (2 * pi) + 0.5;
    if (std::floor(a) == std::floor(b)) continue;
    const double crest = std::max(std::floor(a), std::floor(b));
    all.push_back({i, (crest - a) / (b - a)});
  }
  return all;
}

/// Integral of the torque on a member over time, from sample 0 to a passing, by trapezoids.
class TorqueSum {
 public:
  TorqueSum(const std::vector<MotionSample>& samples, std::size_t member)
      : samples_(samples), member_(member), sums_(samples.size(), 0.0) {
    for (std::size_t i = 1; i < samples.size(); ++i)
      sums_[i] = sums_[i - 1] + 0.5 * (samples[i].time - samples[i - 1].time) *
                                    (samples[i - 1].torque[member] + samples[i].torque[member]);
  }
  double to(const Passing& p) const {
    const MotionSample &a = samples_[p.before], &b = samples_[p.before + 1];
    const double end = a.torque[member_] + p.part * (b.torque[member_] - a.torque[member_]);
    return sums_[p.before] + 0.5 * p.part * (b.time - a.time) * (a.torque[member_] + end);
  }

 private:
  const std::vector<MotionSample>& samples_;
  std::size_t member_;
  std::vector<double> sums_;
};

double time_of(const std::vector<MotionSample>& samples, const Passing& p) {
  const double from = samples[p.before].time;
  return from + p.part * (samples[p.before + 1].time - from);
}

/// Over the whole poles of the later half of the overload.
void measure_ratcheting(const std::vector<MotionSample>& samples, const Overload& o,
                        double direction, OverloadMotion& result) {
  const std::vector<Passing> all = passings(samples, samples.size() / 2);
  if (all.size() < 2) return;
  const double time = time_of(samples, all.back()) - time_of(samples, all.front());
  const TorqueSum sum(samples, at(o.output));
  result.ratchet_frequency = static_cast<double>(all.size() - 1) / time;
  result.mean_torque = direction * (sum.to(all.back()) - sum.to(all.front())) / time;
}

TorqueRange range_of(const std::vector<MotionSample>& samples, Member m, double direction) {
  TorqueRange range{-HUGE_VAL, HUGE_VAL};
  for (const MotionSample& s : samples) {
    range.most = std::max(range.most, direction * s.torque[at(m)]);
    range.least = std::min(range.least, direction * s.torque[at(m)]);
  }
  return range;
}

/// Appends the samples of a later motion, its first one left out.
void append(const Motion& motion, double begins, std::vector<MotionSample>& samples) {
  for (std::size_t i = 1; i < motion.samples.size(); ++i) {
    samples.push_back(motion.samples[i]);
    samples.back().time += begins;
  }
}

}  // namespace

double standing_ratchet_frequency(const GearSpring& spring, Member input, double input_speed) {
  return std::abs(spring.factor(input) * input_speed) / (2 * pi);
}

double swing_period(const GearSpring& spring, double kappa) {
  return 2 * pi / std::sqrt(kappa * spring.potential_range() / 2);
}

double longest_overload(const GearSpring& spring, const Overload& overload) {
  return poles_at_most * times_of(spring, overload).faster();
}

std::optional<OverloadMotion> overload_motion(const GearSpring& spring, const Overload& o) {
  if (o.input_speed == 0.0) throw std::invalid_argument("the input must turn");
  const auto rest = spring.wind_up(resisting(spring, o, o.load) / spring.factor(o.output));
  if (!rest) return std::nullopt;
  const Times times = times_of(spring, o);
  const double out = sign(output_speed(spring, o)), in = -sign(o.input_speed);
  OverloadMotion result;
  result.duration = o.duration > 0.0 ? o.duration : usual_duration(spring, o, times);

  MotionSetup setup = setup_of(spring, o, o.overload);
  setup.duration = result.duration;
  setup.samples = samples_for(setup.duration, times);
  setup.shafts[at(o.input)].start_speed = o.input_speed;
  setup.shafts[at(o.output)].start_speed = output_speed(spring, o);
  setup.shafts[at(o.output)].start_angle = *rest / spring.factor(o.output);
  const Motion during = motion(spring, setup);
  result.slips = during.poles_slipped != 0;
  result.samples = during.samples;
  result.complete = during.complete;
  measure_ratcheting(during.samples, o, out, result);

  // Relief: followed until it locks, then for a few swings more, for the eye.
  MotionSetup after = setup_of(spring, o, o.load);
  start_from(during.samples.back(), after);
  after.duration = std::min(300 * times.slower(), poles_at_most * times.faster());
  after.samples = samples_for(after.duration, times);
  after.until_locked = true;
  const Motion relief = motion(spring, after);
  result.complete = result.complete && relief.complete;
  result.followed = relief.samples.back().time;
  append(relief, result.duration, result.samples);
  result.on_output = range_of(result.samples, o.output, out);
  result.on_input = range_of(result.samples, o.input, in);
  result.poles_slipped = during.poles_slipped + relief.poles_slipped;
  if (!relief.locked) return result;
  result.locks_after = result.followed;

  MotionSetup swings = setup_of(spring, o, o.load);
  start_from(relief.samples.back(), swings);
  swings.duration = 5 * times.swing;
  swings.samples = samples_for(swings.duration, times);
  append(motion(spring, swings), result.duration + result.followed, result.samples);
  return result;
}

double pull_in_speed(const GearSpring& spring, const Overload& overload, double load,
                     double highest) {
  Overload o = overload;
  o.input_inertia = held_fast;
  MotionSetup setup = setup_of(spring, o, load, creep_while_pulled_in);
  const double swing = swing_period(spring, kappa_of(spring, o));
  const double pole = 1 / standing_ratchet_frequency(spring, o.input, highest);
  setup.duration = std::min(100 * swing, poles_at_most * std::min(swing, pole));
  setup.samples = 200;
  setup.tolerance = 1e-5;
  const double direction = sign(o.input_speed);
  return std::abs(pull_in_speed(spring, setup, o.input, direction * highest));
}

}  // namespace lodegear
