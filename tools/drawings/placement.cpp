// tools/drawings/placement.cpp — directions, order of assembly, and the table of both.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/placement.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cases/csv_files.h"
#include "cases/units.h"
#include "materials/constants.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr double near = 1e-9;  // rad

double from_radius(const Magnetisation& m, double angle) {
  double direction = m.angle - angle;
  if (m.law == Magnetisation::Law::radial) direction = m.angle;
  if (m.law == Magnetisation::Law::turning) direction += m.turns * angle;
  if (m.strength < 0.0) direction += pi;
  const double rest = std::remainder(direction, 2 * pi);
  if (std::abs(rest) < near) return 0.0;  // round-off of a turn
  return rest < -pi + near ? pi : rest;
}

double apart(double a, double b) { return std::abs(std::remainder(a - b, 2 * pi)); }

bool is_along_radius(const PlacedMagnet& m) {
  return std::abs(std::sin(m.direction)) < std::sin(from_deg(10.0));
}

/// Of those not yet placed, the one farthest from all that are; of equals the one most opposite to
/// the last.
std::size_t next_of(const std::vector<PlacedMagnet>& magnets, const std::vector<std::size_t>& left,
                    const std::vector<std::size_t>& placed) {
  std::size_t best = left.front();
  double best_room = -1.0, best_turn = -1.0;
  for (const std::size_t i : left) {
    double room = pi;
    for (const std::size_t p : placed)
      room = std::min(room, apart(magnets[i].angle, magnets[p].angle));
    const double turn =
        placed.empty() ? 0.0 : apart(magnets[i].angle, magnets[placed.back()].angle);
    if (room < best_room - near || (room < best_room + near && turn < best_turn + near)) continue;
    best = i;
    best_room = room;
    best_turn = turn;
  }
  return best;
}

/// Magnets that point along the radius first: they hold to the steel or their pocket; those between
/// them are pushed out by their neighbours and come when those are set.
void set_order(std::vector<PlacedMagnet>& magnets) {
  int order = 0;
  for (const bool radial : {true, false}) {
    std::vector<std::size_t> left, placed;
    for (std::size_t i = 0; i < magnets.size(); ++i)
      if (is_along_radius(magnets[i]) == radial && magnets[i].strength != 0.0) left.push_back(i);
    while (!left.empty()) {
      const std::size_t i = next_of(magnets, left, placed);
      magnets[i].order = ++order;
      placed.push_back(i);
      std::erase(left, i);
    }
  }
}

const char* name_of(Magnetisation::Law law) {
  return law == Magnetisation::Law::uniform  ? "straight"
         : law == Magnetisation::Law::radial ? "along the radius everywhere"
                                             : "turning along the circle";
}

}  // namespace

std::vector<PlacedMagnet> placement(const MagnetRotor& rotor, Member member) {
  std::vector<PlacedMagnet> magnets;
  for (int i = 0; i < n_magnets(rotor); ++i) {
    const Magnetisation m = magnetisation(rotor, i);
    PlacedMagnet placed{.member = member, .index = i, .angle = magnet_centre_angle(rotor, i)};
    placed.direction = from_radius(m, placed.angle);
    placed.law = m.law;
    placed.strength = std::abs(m.strength);
    magnets.push_back(placed);
  }
  set_order(magnets);
  return magnets;
}

std::string north_face(double direction) {
  const double degrees = to_deg(direction);
  const auto is = [degrees](double x) { return std::abs(std::remainder(degrees - x, 360)) < 0.5; };
  if (is(0)) return "out";
  if (is(180)) return "in";
  if (is(90)) return "counter-clockwise";
  if (is(-90)) return "clockwise";
  return rounded_text(std::abs(degrees), 1) + "° " +
         (degrees > 0 ? "counter-clockwise" : "clockwise") + " from out";
}

std::string felt_in_gap(const PlacedMagnet& magnet) {
  const double out = std::cos(magnet.direction) * (magnet.member == Member::sun ? 1.0 : -1.0);
  if (magnet.strength == 0.0) return "nothing there";
  return out > 0.2 ? "push" : out < -0.2 ? "pull" : "sideways";
}

std::string placement_csv(const Gear& gear) {
  std::string text =
      "member,number,index,angle_deg,direction_deg,north_face,order,magnetised,strength_percent\n";
  for (const auto& [rotor, member] :
       {std::pair{&gear.sun, Member::sun}, {&gear.ring, Member::ring}}) {
    if (!*rotor) continue;
    for (const PlacedMagnet& m : placement(**rotor, member))
      text += std::string(lodegear::name_of(member)) + "," + std::to_string(m.number()) + "," +
              std::to_string(m.index) + "," + cell(to_deg(m.angle)) + "," +
              cell(to_deg(m.direction)) + "," + north_face(m.direction) + "," +
              std::to_string(m.order) + "," + name_of(m.law) + "," + cell(100 * m.strength) + "\n";
  }
  return text;
}

}  // namespace lodegear
