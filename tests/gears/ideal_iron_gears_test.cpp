// tests/gears/ideal_iron_gears_test.cpp — three gears of ideal iron against exact series.
// SPDX-License-Identifier: GPL-3.0-or-later
//
// The reference is tests/analytic/subdomain_gear.json, written by the script of the same name: the
// subdomain method of Lubin, Mezani, Rezzoug, IEEE Trans. Magn. 46(7) (2010) 2611, with corner
// functions; its own error is below 1e-6 of slip torque.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "solver/motion/torque_curve.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;
using nlohmann::json;

namespace {

json reference(const std::string& name) {
  std::ifstream file(LODEGEAR_SOURCE_DIR "/tests/analytic/subdomain_gear.json");
  const json gears = json::parse(file)["gears"];
  for (const json& gear : gears)
    if (gear["name"] == name) return gear;
  throw std::runtime_error("no such reference gear: " + name);
}

Gear ideal_gear(const json& g, bool ring_magnetised = true) {
  const std::vector<double> r = g["radii_m"];
  const bool halbach = g["pattern"] == "halbach";
  const auto pattern = [halbach](FluxSide side) {
    return halbach ? MagnetPattern(ContinuousHalbach{side}) : MagnetPattern(AlternatingRadial{});
  };
  Gear gear;
  gear.sun = arc_rotor(g["p_sun"], r[0], r[1], pattern(FluxSide::outward));
  gear.sun->iron = Iron{0.0, r[0], ideal_iron_name};
  gear.modulator = sectors(g["n_pole_pieces"], r[2], r[3]);
  gear.modulator->material = ideal_iron_name;
  gear.ring = arc_rotor(g["p_ring"], r[4], r[5], pattern(FluxSide::inward));
  gear.ring->iron = Iron{r[5], r[5] + 0.01, ideal_iron_name};
  if (!ring_magnetised) gear.ring->magnet = "no magnet";
  return gear;
}

Position position_of(const json& p) {
  return {p["sun_angle_rad"], p["modulator_angle_rad"], p["ring_angle_rad"]};
}

double slip_torque_of(const json& g, int which) {
  return std::abs(g["mean_at_90_deg_Nm_per_m"][static_cast<std::size_t>(which)].get<double>());
}

// Largest error over all positions and members, relative to that member's slip torque.
double torque_error(const json& g, const FieldSolver& solver) {
  double worst = 0.0;
  for (const json& p : g["positions"]) {
    const FieldSolution s = solver.solve(position_of(p));
    const double errors[3] = {s.torque_sun - p["torque_sun_Nm_per_m"].get<double>(),
                              s.torque_modulator - p["torque_modulator_Nm_per_m"].get<double>(),
                              s.torque_ring - p["torque_ring_Nm_per_m"].get<double>()};
    for (int i = 0; i < 3; ++i) worst = std::max(worst, std::abs(errors[i]) / slip_torque_of(g, i));
  }
  return worst;
}

// Largest error of a listed order of B_r or B_θ, relative to the gap's largest order of B_r.
double order_error(const json& circle, const GapField& gap) {
  double worst = 0.0, largest = 0.0;
  for (std::size_t i = 0; i < circle["order"].size(); ++i) {
    const Eigen::Vector2d b = order_amplitude(gap, circle["radius_m"], circle["order"][i]);
    worst = std::max({worst, std::abs(b[0] - circle["B_r_T"][i].get<double>()),
                      std::abs(b[1] - circle["B_theta_T"][i].get<double>())});
    largest = std::max(largest, circle["B_r_T"][i].get<double>());
  }
  return worst / largest;
}

}  // namespace

TEST_CASE("ideal-iron gears: torque at every position agrees with the series",
          "[gears][analytic]") {
  for (const char* name : {"low_cogging", "continuous_halbach", "unbalanced"}) {
    const json g = reference(name);
    const FieldSolver solver = gear_solver(ideal_gear(g));
    const double error = torque_error(g, solver);
    INFO(name << ": " << error << " of slip torque");
    CHECK(error < 1e-3);  // the accuracy promised for the default mesh
  }
}

TEST_CASE("ideal-iron gears: a finer mesh comes closer", "[gears][analytic][slow]") {
  const json g = reference("unbalanced");
  Resolution coarse, fine;
  coarse.fineness = 0.5;
  coarse.orders_inner_gap = coarse.orders_outer_gap = 60;
  fine.fineness = 1.5;
  fine.orders_inner_gap = fine.orders_outer_gap = 180;
  const double coarse_error = torque_error(g, gear_solver(ideal_gear(g), {}, coarse));
  const double fine_error = torque_error(g, gear_solver(ideal_gear(g), {}, fine));
  INFO("coarse " << coarse_error << ", fine " << fine_error);
  CHECK(fine_error < 0.3 * coarse_error);
}

TEST_CASE("ideal-iron gears: the orders of both gaps agree with the series", "[gears][analytic]") {
  for (const char* name : {"low_cogging", "continuous_halbach", "unbalanced"}) {
    const json g = reference(name);
    const FieldSolver solver = gear_solver(ideal_gear(g));
    for (const json& p : g["positions"]) {
      const FieldSolution s = solver.solve(position_of(p));
      INFO(name << " at " << position_of(p).sun);
      CHECK(order_error(p["inner_gap"], s.gaps[0]) < 5e-3);  // the accuracy promised
      CHECK(order_error(p["outer_gap"], s.gaps[1]) < 5e-3);
    }
  }
}

TEST_CASE("ideal-iron gears: the unbalanced pull agrees with the series", "[gears][analytic]") {
  const json g = reference("unbalanced");
  const FieldSolver solver = gear_solver(ideal_gear(g));
  double largest = 0.0, worst_inner = 0.0, worst_outer = 0.0;
  for (const json& p : g["positions"]) {
    const FieldSolution s = solver.solve(position_of(p));
    const auto force = [&](const char* gap) {
      const json& f = p[gap]["force_on_inside_N_per_m"];
      return Eigen::Vector2d(f[0].get<double>(), f[1].get<double>());
    };
    largest = std::max(largest, force("inner_gap").norm());
    worst_inner = std::max(worst_inner, (gap_force(s.gaps[0]) - force("inner_gap")).norm());
    worst_outer = std::max(worst_outer, (gap_force(s.gaps[1]) - force("outer_gap")).norm());
  }
  INFO("largest pull " << largest << " N/m, errors " << worst_inner << ", " << worst_outer);
  CHECK(worst_inner < 0.01 * largest);  // the accuracy promised
  CHECK(worst_outer < 0.01 * largest);
}

TEST_CASE("ideal-iron gears: cogging of the sun, 0.07 % of slip torque, is right within 10 %",
          "[gears][analytic]") {
  const json g = reference("low_cogging");
  const FieldSolver solver = gear_solver(ideal_gear(g, false));
  const double period = 2 * pi / 168;  // LCM(2·4, 21) ripples a turn
  std::vector<double> torque;
  for (int i = 0; i < 12; ++i) torque.push_back(solver.solve({.sun = period * i / 12}).torque_sun);
  const double computed = 0.5 * ripple(torque).peak_to_peak;
  const double exact = g["cogging_sun_half_peak_to_peak_Nm_per_m"];
  INFO("computed " << computed << ", exact " << exact << " N·m/m");
  CHECK(computed == Approx(exact).epsilon(0.10));  // the accuracy promised
}

TEST_CASE("ideal-iron gears: continuous Halbach magnets leave no ripple", "[gears][analytic]") {
  // Each rotor makes one order; orders 4 + 21 k and 17 + 21 k meet only where torque is steady.
  const json g = reference("continuous_halbach");
  const FieldSolver solver = gear_solver(ideal_gear(g));
  double low = 1e300, high = -1e300;
  for (int i = 0; i < 8; ++i) {
    const double phase = 2 * pi / 168 * i / 8;
    const double t = solver.solve({phase, 0.0, (pi / 2 - 4 * phase) / 17}).torque_ring;
    low = std::min(low, t);
    high = std::max(high, t);
  }
  INFO("ripple " << high - low << " of " << std::abs(low));
  CHECK(high - low < 1e-5 * std::abs(low));  // what the mesh of the magnets leaves of order h⁴
}
