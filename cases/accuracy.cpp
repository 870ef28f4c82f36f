// cases/accuracy.cpp — how far off the figures are, told from coarser rungs of the ladder.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/accuracy.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "cases/members.h"
#include "cases/slip_figures.h"
#include "materials/constants.h"
#include "materials/input_error.h"
#include "materials/words.h"
#include "mesh/ladder.h"
#include "mesh/member_limits.h"

namespace lodegear {

namespace {

constexpr double ripple_factor = 0.6;

/// Which harmonic of n samples one of order k looks like.
int folded(int k, int n) {
  const int rest = k % n;
  return std::min(rest, n - rest);
}

}  // namespace

double part_from_text(const std::string& text, const std::string& key, double least, double most,
                      const std::string& what) {
  std::string number = text;
  while (!number.empty() && (number.back() == ' ' || number.back() == '%')) number.pop_back();
  double percent = 0.0;
  const auto read = std::from_chars(number.data(), number.data() + number.size(), percent);
  const bool whole = read.ec == std::errc() && read.ptr == number.data() + number.size();
  const bool signs = std::count(text.begin(), text.end(), '%') <= 1;
  const std::string right = "it must be per cent " + what + " from " + number_text(least) + " to " +
                            number_text(most) + ", as in " + number_text(std::max(0.1, least)) +
                            "%.";
  if (!whole || !signs) throw InputError({{{}, key, "is " + in_quotes(text) + "; " + right}});
  if (!(percent >= least * (1 - 1e-12) && percent <= most * (1 + 1e-12)))
    throw InputError({{{}, key, "is " + number_text(percent) + " %; " + right}});
  return percent / 100;
}

double accuracy_from_text(const std::string& text, const std::string& key) {
  return part_from_text(text, key, 100 * finest_accuracy, 100 * coarsest_accuracy,
                        "of the slip torque");
}

void ask_accuracy(Case& c, const std::string& text, const std::string& key) {
  c.accuracy = {accuracy_from_text(text, key), true};
  if (!c.slip)
    throw InputError({{{},
                       key,
                       "needs a slip curve, by which the error is judged; this case has "
                       "none (slip.compute)."}});
}

double first_level(double accuracy) {
  // Bars of 0.1 % at level 1.5 in most gears, and a quarter of the error a level.
  const double level = 1.5 + std::log(usual_accuracy / accuracy) / std::log(4.0);
  return std::clamp(std::round(2 * level) / 2, lowest_level, highest_level);
}

double next_level(double level, double error, double accuracy) {
  const double more = std::log(error / accuracy) / std::log(4.0);
  return std::min(level + std::clamp(std::ceil(2 * more) / 2, 0.5, 1.5), highest_level);
}

std::vector<std::size_t> points_to_compare(const std::vector<CurvePoint>& slip_curve,
                                           double load_angle) {
  std::vector<std::size_t> near;
  for (std::size_t i = 0; i < slip_curve.size(); ++i)
    if (std::abs(std::remainder(slip_curve[i].load_angle - load_angle, 2 * pi)) < pi / 4 + 1e-9)
      near.push_back(i);
  const std::size_t n = near.size(), wanted = bar_positions;
  if (n <= wanted) return near;
  std::vector<std::size_t> spread;
  for (std::size_t j = 0; j < wanted; ++j)
    spread.push_back(near[(j * (n - 1) + (wanted - 1) / 2) / (wanted - 1)]);
  return spread;
}

static double rms_difference(const std::vector<CurvePoint>& a, const std::vector<CurvePoint>& b,
                             Member m) {
  double sum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const double difference = of(a[i].torque, m) - of(b[i].torque, m);
    sum += difference * difference;
  }
  return std::sqrt(sum / static_cast<double>(a.size()));
}

template <typename Difference>
static PerMember sum_of_differences(const std::vector<std::vector<CurvePoint>>& rungs,
                                    double factor, Difference difference) {
  PerMember bar{};
  for (Member m : members_inside_out)
    for (std::size_t i = 0; i + 1 < rungs.size(); ++i)
      of(bar, m) +=
          factor * difference(rungs[i], rungs[i + 1], m) / std::exp2(static_cast<double>(i));
  return bar;
}

PerMember slip_torque_bar(const std::vector<std::vector<CurvePoint>>& rungs) {
  return sum_of_differences(rungs, bar_over_differences, rms_difference);
}

static double range_of_difference(const std::vector<CurvePoint>& a,
                                  const std::vector<CurvePoint>& b, Member m) {
  std::vector<double> difference = torques(a, m);
  const std::vector<double> other = torques(b, m);
  for (std::size_t i = 0; i < difference.size(); ++i) difference[i] -= other[i];
  return ripple(difference).peak_to_peak;
}

PerMember ripple_bar(const std::vector<std::vector<CurvePoint>>& rungs) {
  PerMember bar = sum_of_differences(rungs, ripple_bar_over_differences, range_of_difference);
  for (Member m : members_inside_out) {
    const PeriodicCurve curve(torques(rungs.front(), m));
    of(bar, m) += 2 * curve.amplitude(curve.n_orders());
  }
  return bar;
}

double interpolation_error(const std::vector<CurvePoint>& slip_curve, Member m) {
  const std::vector<double> t = torques(slip_curve, m);
  const PeriodicCurve curve(t);
  double largest = 0.0, squares = 0.0;
  for (const double value : t) largest = std::max(largest, std::abs(value));
  for (int k = static_cast<int>(t.size()) / 3; k <= curve.n_orders(); ++k)
    squares += curve.amplitude(k) * curve.amplitude(k);
  return largest > 0.0 ? std::sqrt(squares) / largest : 0.0;
}

int telling_positions(int coggings, int least) {
  int n = least + least % 2;
  while (2 * coggings >= n && 3 * folded(coggings, n) < n) n += 2;
  return n;
}

double ripple_bound(const Gear& gear) {
  if (ripple_order(gear) == 0) return 0.0;
  double steepest = 0.0;
  const int gaps = static_cast<int>(members_present(gear).size()) - 1;
  for (int gap = 0; gap < gaps; ++gap) {
    const std::vector<ClearPart> parts = clear_parts(gear, gap);
    const double inner = parts.front().inner, outer = parts.back().outer;
    const double falls = std::exp(-ripple_order(gear) * (outer - inner) / ((inner + outer) / 2));
    steepest = std::max(steepest, falls);
  }
  return ripple_factor * steepest;
}

}  // namespace lodegear
