// cases/slip_chart.cpp — a slip curve drawn with letters.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/slip_chart.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "cases/figures.h"
#include "cases/members.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr int columns = 72, rows = 17;  // an odd number: zero has a row of its own
constexpr char letters[] = {'s', 'm', 'r'};

/// Torque at a load angle between the points, NaN where one of them has none.
double torque_at(const std::vector<CurvePoint>& curve, Member m, double place) {
  const double at = place * static_cast<double>(curve.size() - 1);
  const auto i = std::min(static_cast<std::size_t>(at), curve.size() - 2);
  if (!curve[i].summary.converged || !curve[i + 1].summary.converged) return std::nan("");
  const double t = at - static_cast<double>(i);
  return (1 - t) * of(curve[i].torque, m) + t * of(curve[i + 1].torque, m);
}

}  // namespace

std::string slip_curve_chart(const CaseResult& result) {
  const std::vector<CurvePoint>& curve = result.slip_curve;
  if (curve.size() < 2) return {};
  double largest = 0.0;
  for (const CurvePoint& point : curve)
    for (const Member m : members_inside_out)
      if (point.summary.converged && has(result.input.gear, m))
        largest = std::max(largest, std::abs(of(point.torque, m)));
  if (!(largest > 0.0)) return {};
  std::vector<std::string> lines(rows, std::string(columns, ' '));
  lines[rows / 2].assign(columns, '-');
  for (const Member m : members_inside_out) {
    if (!has(result.input.gear, m)) continue;
    for (int c = 0; c < columns; ++c) {
      const double torque = torque_at(curve, m, static_cast<double>(c) / (columns - 1));
      if (!std::isfinite(torque)) continue;
      const auto row =
          static_cast<std::size_t>(std::lround((1 - torque / largest) / 2 * (rows - 1)));
      char& place = lines[row][static_cast<std::size_t>(c)];
      place = place == ' ' || place == '-' ? letters[static_cast<std::size_t>(m)] : '*';
    }
  }
  std::string text = "Slip curve: torque on sun (s), modulator (m), ring (r), up to ±" +
                     torque_text(largest) + "\n";
  for (const std::string& line : lines) text += "  |" + line + "\n";
  return text + "   load angle " + rounded_text(to_deg(curve.front().load_angle), 0) + "° to " +
         rounded_text(to_deg(curve.back().load_angle), 0) + "° electrical, left to right\n";
}

}  // namespace lodegear
