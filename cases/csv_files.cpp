// cases/csv_files.cpp — torque curves as comma-separated text.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/csv_files.h"

#include <charconv>
#include <cmath>

#include "cases/members.h"
#include "cases/units.h"

namespace lodegear {

namespace {

constexpr const char* columns =
    "load_angle_deg,sun_angle_deg,modulator_angle_deg,ring_angle_deg,"
    "torque_sun_Nm,torque_modulator_Nm,torque_ring_Nm,"
    "pull_on_sun_x_N,pull_on_sun_y_N,pull_on_ring_x_N,pull_on_ring_y_N,converged";

/// Degrees of sums and differences of angles: what is smaller than round-off of a turn is zero.
std::string angle_cell(double rad) {
  const double degrees = to_deg(rad);
  return cell(std::abs(degrees) < 1e-10 ? 0.0 : degrees);
}

class Row {
 public:
  explicit Row(std::string first) : text_(std::move(first)) {}
  void add(const std::string& value) { text_ += "," + value; }
  void add(double value, bool there) { add(there ? cell(value) : std::string()); }
  void add(const Eigen::Vector2d& value, bool there) {
    add(value[0], there);
    add(value[1], there);
  }
  std::string text() const { return text_; }

 private:
  std::string text_;
};

std::string row(const Gear& gear, const CurvePoint& point) {
  const bool good = point.summary.converged;
  Row cells(angle_cell(point.load_angle));
  for (Member m : members_inside_out)
    cells.add(has(gear, m) ? angle_cell(point.position.of(m)) : std::string());
  for (Member m : members_inside_out) cells.add(of(point.torque, m), good && has(gear, m));
  cells.add(point.pull_on_sun, good && has(gear, Member::sun));
  cells.add(point.pull_on_ring, good && has(gear, Member::ring));
  cells.add(good ? "1" : "0");
  return cells.text();
}

std::string rows(const Gear& gear, const RunningCurve& curve, const std::string& purpose) {
  std::string text;
  for (const CurvePoint& point : curve.points) text += row(gear, point) + "," + purpose + "\n";
  return text;
}

}  // namespace

std::string text_cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

std::string cell(double x) {
  if (x == 0.0) return "0";  // never "-0"
  char buffer[40];
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, x, std::chars_format::general, 12);
  return std::string(buffer, end.ptr);
}

std::string purpose_text(const RunningCurve& curve) {
  return std::abs(curve.load_angle) < 1e-12 ? "no load" : "load";
}

std::string slip_curve_csv(const CaseResult& result) {
  std::string text = std::string(columns) + "\n";
  for (const CurvePoint& point : result.slip_curve) text += row(result.input.gear, point) + "\n";
  return text;
}

std::string running_curve_csv(const CaseResult& result) {
  const Gear& gear = result.input.gear;
  std::string text = std::string(columns) + ",purpose\n";
  for (const RunningCurve& curve : result.running_curves)
    text += rows(gear, curve, purpose_text(curve));
  if (result.at_slip) text += rows(gear, *result.at_slip, "slip");
  return text;
}

}  // namespace lodegear
