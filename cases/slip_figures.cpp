// cases/slip_figures.cpp — slip torque and stiffness from the curves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/slip_figures.h"

#include <algorithm>
#include <cmath>

#include "cases/members.h"
#include "materials/constants.h"

namespace lodegear {

namespace {

bool whole_period(const Case& c, const std::vector<CurvePoint>& curve) {
  return static_cast<int>(curve.size()) >= c.slip->positions_per_period;
}

PeriodicCurve one_period(const Case& c, const std::vector<CurvePoint>& curve, Member m) {
  std::vector<double> samples = torques(curve, m);
  samples.resize(static_cast<std::size_t>(c.slip->positions_per_period));
  return PeriodicCurve(std::move(samples));
}

// Largest size of an open curve, and where (in positions): parabola through three neighbours.
Extreme open_peak(const std::vector<double>& t) {
  const auto bigger = [](double a, double b) { return std::abs(a) < std::abs(b); };
  const auto top = std::max_element(t.begin(), t.end(), bigger) - t.begin();
  Extreme peak{static_cast<double>(top), std::abs(t[static_cast<std::size_t>(top)])};
  if (top == 0 || top + 1 == static_cast<std::ptrdiff_t>(t.size())) return peak;
  const double before = std::abs(t[static_cast<std::size_t>(top - 1)]);
  const double after = std::abs(t[static_cast<std::size_t>(top + 1)]);
  const double bend = before - 2 * peak.value + after;
  if (bend >= 0) return peak;
  const double shift = 0.5 * (before - after) / bend;
  return {peak.at + shift, peak.value - 0.25 * (before - after) * shift};
}

Extreme period_peak(const PeriodicCurve& curve) {
  const Extreme high = maximum(curve), low = minimum(curve);
  return high.value >= -low.value ? high : Extreme{low.at, -low.value};
}

}  // namespace

bool all_converged(const std::vector<CurvePoint>& points) {
  return std::all_of(points.begin(), points.end(),
                     [](const CurvePoint& p) { return p.summary.converged; });
}

std::vector<double> torques(const std::vector<CurvePoint>& points, Member m) {
  std::vector<double> t;
  for (const CurvePoint& point : points) t.push_back(of(point.torque, m));
  return t;
}

Member telling_member(const Case& c) {
  return c.gear.modulator ? Member::modulator : c.slip->turned;
}

std::optional<SlipTorque> slip_torque(const Case& c, const std::vector<CurvePoint>& curve) {
  if (curve.size() < 3 || !all_converged(curve)) return std::nullopt;
  const double step = 2 * pi / c.slip->positions_per_period;
  const Member telling = telling_member(c);
  SlipTorque slip;
  if (whole_period(c, curve)) {
    // The motoring half: where the telling member's torque is positive the load angle is below
    // 180°.
    slip.load_angle = 2 * pi * maximum(one_period(c, curve, telling)).at;
    for (Member m : members_inside_out)
      of(slip.peak, m) = period_peak(one_period(c, curve, m)).value;
    if (slip.load_angle < 0) slip.load_angle += 2 * pi;
    return slip;
  }
  const Extreme peak = open_peak(torques(curve, telling));
  slip.load_angle = curve.front().load_angle + step * peak.at;
  slip.peak_reached = peak.at < static_cast<double>(curve.size() - 1);
  for (Member m : members_inside_out) of(slip.peak, m) = open_peak(torques(curve, m)).value;
  return slip;
}

std::vector<double> likely_peaks(const Case& c, const std::vector<CurvePoint>& curve, double open) {
  std::vector<double> places;
  for (Member m : members_inside_out) {
    const PeriodicCurve torque = one_period(c, curve, m);
    const double largest = period_peak(torque).value;
    if (largest == 0.0) continue;
    for (const Extreme& top : tops(torque, 2 * open * largest, 3)) places.push_back(top.at);
  }
  std::sort(places.begin(), places.end());
  const double alike = 0.01 / static_cast<double>(curve.size());  // members often peak together
  const auto end = std::unique(places.begin(), places.end(),
                               [alike](double a, double b) { return b - a < alike; });
  places.erase(end, places.end());
  return places;
}

std::vector<Position> positions_about(const Case& c, const PoleCounts& counts,
                                      const std::vector<double>& places) {
  const double step = 0.25 / c.slip->positions_per_period;
  const double turn = 2 * pi / electrical_factor(counts, c.slip->turned);
  std::vector<Position> positions;
  for (const double place : places)
    for (const double at : {place - step, place, place + step}) {
      positions.push_back(start_position(c.gear));
      member_angle(positions.back(), c.slip->turned) += turn * at;
    }
  return positions;
}

PerMember correct_peaks(const std::vector<CurvePoint>& points, SlipTorque& slip) {
  PerMember above{};
  for (Member m : members_inside_out) {
    const std::vector<double> t = torques(points, m);
    double best = 0.0, highest = 0.0;
    for (std::size_t i = 0; i + 2 < t.size(); i += 3) {
      best = std::max(best, open_peak({t[i], t[i + 1], t[i + 2]}).value);
      for (std::size_t j = i; j < i + 3; ++j) highest = std::max(highest, std::abs(t[j]));
    }
    of(slip.peak, m) = best;
    of(above, m) = best - highest;
  }
  return above;
}

std::optional<Stiffness> stiffness(const Case& c, const PoleCounts& counts,
                                   const std::vector<CurvePoint>& curve) {
  if (curve.size() < 2 || !all_converged(curve)) return std::nullopt;
  const auto slope = [&](Member m) {  // per electrical rad at load angle 0
    if (whole_period(c, curve)) return one_period(c, curve, m).slope(0.0) / (2 * pi);
    const double step = curve[1].load_angle - curve[0].load_angle;
    return (of(curve[1].torque, m) - of(curve[0].torque, m)) / step;
  };
  Stiffness result;
  result.per_load_angle = std::abs(slope(telling_member(c)));
  for (Member m : members_inside_out)
    of(result.per_turn, m) = std::abs(slope(m) * electrical_factor(counts, m));
  return result;
}

void add_mean_and_weakest(const RunningCurve& at_slip, SlipTorque& slip) {
  if (!at_slip.ripple) return;
  slip.mean.emplace();
  slip.weakest.emplace();
  for (Member m : members_inside_out) {
    const Ripple& r = (*at_slip.ripple)[static_cast<std::size_t>(m)];
    of(*slip.mean, m) = std::abs(r.mean);
    of(*slip.weakest, m) = std::min(std::abs(r.smallest), std::abs(r.largest));
  }
}

Position start_position(const Gear& gear) {
  Position p;
  if (gear.sun) p.sun = gear.sun->initial_angle;
  if (gear.modulator) p.modulator = gear.modulator->initial_angle;
  if (gear.ring) p.ring = gear.ring->initial_angle;
  return p;
}

double& member_angle(Position& position, Member m) {
  return m == Member::sun         ? position.sun
         : m == Member::modulator ? position.modulator
                                  : position.ring;
}

std::vector<GapClearance> gap_clearances(const Gear& gear) {
  const int members =
      int(gear.sun.has_value()) + int(gear.modulator.has_value()) + int(gear.ring.has_value());
  if (members < 2) return {};
  if (members == 3) return {gap_clearance(gear, Gap::inner), gap_clearance(gear, Gap::outer)};
  return {gap_clearance(gear, gear.sun ? Gap::inner : Gap::outer)};
}

}  // namespace lodegear
