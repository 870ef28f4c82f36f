// solver/post/efficiency.cpp — power balance, efficiency maps, drag and limits of a gear in step.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/efficiency.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace lodegear {

namespace {

// Loss of a part between two load angles, or times a factor.
MagneticLoss blend(const MagneticLoss& a, const MagneticLoss& b, double t) {
  return {a.part, std::lerp(a.hysteresis, b.hysteresis, t), std::lerp(a.eddy, b.eddy, t),
          std::lerp(a.surface, b.surface, t)};
}

void add(std::vector<MagneticLoss>& sum, const std::vector<MagneticLoss>& losses, double weight) {
  if (sum.empty())
    for (const MagneticLoss& loss : losses) sum.push_back({.part = loss.part});
  for (std::size_t i = 0; i < losses.size(); ++i) {
    sum[i].hysteresis += weight * losses[i].hysteresis;
    sum[i].eddy += weight * losses[i].eddy;
    sum[i].surface += weight * losses[i].surface;
  }
}

double total(const std::vector<MagneticLoss>& losses) {
  double sum = 0.0;
  for (const MagneticLoss& loss : losses) sum += loss.total();
  return sum;
}

// δ at which the gear gives this torque per pole pair; none beyond the last solved load.
std::optional<double> load_angle_for(const GearLosses& gear, double torque) {
  const auto& loads = gear.loads;
  const auto upper = std::find_if(loads.begin(), loads.end(), [&](const SolvedLoad& row) {
    return row.torque_per_pole_pair >= torque;
  });
  if (upper == loads.end()) return std::nullopt;
  if (upper == loads.begin()) return upper->load_angle;
  const auto lower = upper - 1;
  const double t = (torque - lower->torque_per_pole_pair) /
                   (upper->torque_per_pole_pair - lower->torque_per_pole_pair);
  return std::asin(
      std::min(1.0, std::lerp(std::sin(lower->load_angle), std::sin(upper->load_angle), t)));
}

void demand(bool good, const char* what) {
  if (!good) throw std::invalid_argument(what);
}

}  // namespace

MagneticLoss at_frequency(const MagneticLoss& loss, double ratio) {
  const double f = std::abs(ratio);
  return {loss.part, loss.hysteresis * f, loss.eddy * f * f, loss.surface * f * std::sqrt(f)};
}

void check(const GearLosses& gear) {
  demand(!gear.loads.empty(), "losses need at least one solved load");
  demand(gear.relative_speed > 0, "the solved losses need the relative speed they belong to");
  demand(gear.loads.front().load_angle == 0.0 && gear.loads.front().torque_per_pole_pair == 0.0,
         "the first solved load must be none: load angle and torque zero");
  for (std::size_t i = 1; i < gear.loads.size(); ++i) {
    const SolvedLoad &a = gear.loads[i - 1], &b = gear.loads[i];
    demand(b.load_angle > a.load_angle && b.torque_per_pole_pair > a.torque_per_pole_pair,
           "solved loads must rise in load angle and torque");
    demand(b.losses.size() == a.losses.size(), "every solved load must have the same parts");
  }
  demand(gear.loads.back().load_angle <= 1.5708, "no load lies beyond a load angle of 90 degrees");
}

std::vector<MagneticLoss> magnetic_losses(const GearLosses& gear, double load_angle,
                                          double relative_speed) {
  check(gear);
  const auto& loads = gear.loads;
  std::size_t i = 0;
  while (i + 2 < loads.size() && loads[i + 1].load_angle < load_angle) ++i;
  const SolvedLoad& lower = loads[i];
  const SolvedLoad& upper = loads[std::min(i + 1, loads.size() - 1)];
  const double span = std::cos(lower.load_angle) - std::cos(upper.load_angle);
  const double t = span > 0 ? (std::cos(lower.load_angle) - std::cos(load_angle)) / span : 0.0;
  std::vector<MagneticLoss> losses;
  for (std::size_t part = 0; part < lower.losses.size(); ++part)
    losses.push_back(at_frequency(blend(lower.losses[part], upper.losses[part], t),
                                  relative_speed / gear.relative_speed));
  return losses;
}

std::optional<OperatingPoint> operating_point(const GearLosses& gear, const Drive& drive,
                                              double input_speed, double load) {
  check(gear);
  demand(input_speed != 0.0, "a gear at rest has no power balance");
  demand(load >= 0.0, "the load is a magnitude; exchange input and output to drive backwards");
  OperatingPoint point;
  point.speeds = speeds_in_step(gear.counts, drive, input_speed);
  point.friction = friction_losses(gear.friction, point.speeds);
  const double output_speed = point.speeds.of(drive.output);
  point.output_torque = -std::copysign(load, output_speed);
  // The field must drive the load and what drags on the output's shaft.
  const double field_torque = -(point.output_torque + torque_on(drive.output, point.friction));
  const auto angle = load_angle_for(
      gear, std::abs(field_torque) / std::abs(electrical_factor(gear.counts, drive.output)));
  if (!angle) return std::nullopt;
  point.load_angle = *angle;
  point.magnetic = magnetic_losses(gear, *angle, relative_speed(point.speeds));
  point.magnetic_loss = total(point.magnetic);
  point.friction_loss = total_power(point.friction);
  point.output_power = load * std::abs(output_speed);
  point.input_power = point.output_power + point.magnetic_loss + point.friction_loss;
  point.input_torque = point.input_power / input_speed;
  point.ground_torque = -(point.input_torque + point.output_torque);
  point.efficiency = point.input_power > 0 ? point.output_power / point.input_power : 0.0;
  return point;
}

EfficiencyMap efficiency_map(const GearLosses& gear, const Drive& drive,
                             std::vector<double> input_speeds, std::vector<double> loads) {
  EfficiencyMap map{std::move(input_speeds), std::move(loads), {}};
  for (double load : map.loads) {
    auto& row = map.points.emplace_back();
    for (double speed : map.input_speeds) row.push_back(operating_point(gear, drive, speed, load));
  }
  return map;
}

std::optional<NoLoadDrag> no_load_drag(const GearLosses& gear, const Drive& drive,
                                       double input_speed) {
  const auto point = operating_point(gear, drive, input_speed, 0.0);
  if (!point) return std::nullopt;
  const double speed = std::abs(input_speed);
  NoLoadDrag drag;
  for (const MagneticLoss& loss : point->magnetic) {
    drag.hysteresis += loss.hysteresis / speed;
    drag.eddy += loss.eddy / speed;
    drag.surface += loss.surface / speed;
  }
  drag.friction = point->friction_loss / speed;
  return drag;
}

std::optional<DutyMean> duty_mean(const GearLosses& gear, const Drive& drive,
                                  const std::vector<DutyInterval>& cycle) {
  demand(!cycle.empty(), "a duty cycle needs intervals");
  DutyMean mean;
  for (const DutyInterval& interval : cycle) {
    demand(interval.duration > 0, "every interval of a duty cycle must last");
    mean.duration += interval.duration;
  }
  for (const DutyInterval& interval : cycle) {
    if (interval.input_speed == 0.0) {
      mean.points.emplace_back();
      continue;
    }
    auto point = operating_point(gear, drive, interval.input_speed, interval.load);
    if (!point) return std::nullopt;
    const double weight = interval.duration / mean.duration;
    const double loss = point->magnetic_loss + point->friction_loss;
    mean.input_power += weight * point->input_power;
    mean.output_power += weight * point->output_power;
    mean.loss += weight * loss;
    mean.largest_loss = std::max(mean.largest_loss, loss);
    add(mean.magnetic, point->magnetic, weight);
    mean.points.push_back(std::move(point));
  }
  mean.efficiency = mean.input_power > 0 ? mean.output_power / mean.input_power : 0.0;
  return mean;
}

SpeedLimit highest_continuous_speed(
    const std::function<std::optional<double>(double input_speed)>& margin, double highest,
    int steps) {
  demand(highest > 0 && steps > 0, "the highest speed and the number of steps must be positive");
  const auto good = [&](double speed) {
    const auto kelvins = margin(speed);
    return kelvins && *kelvins >= 0;
  };
  double low = 0.0;
  for (int i = 1; i <= steps; ++i) {
    double high = highest * i / steps;
    if (good(high)) {
      low = high;
      continue;
    }
    while (high - low > 1e-6 * high) {
      const double middle = 0.5 * (low + high);
      (good(middle) ? low : high) = middle;
      if (high < 1e-9 * highest) return {0.0, true};
    }
    return {low, true};
  }
  return {highest, false};
}

}  // namespace lodegear
