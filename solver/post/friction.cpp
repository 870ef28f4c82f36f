// solver/post/friction.cpp — drag of bearings, shaft seals and air, from stated data.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/friction.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/constants.h"

namespace lodegear {

namespace {

void require(bool good, const std::string& name, const char* what) {
  if (!good) throw std::invalid_argument(name + ": " + what);
}

double square(double x) { return x * x; }

// Torque coefficient of vortices and turbulence in a gap, M = ½ C ρ π ω² r1⁴ L. The published
// ranges of Reynolds number meet with steps of some per cent; the largest fit is taken instead, so
// that drag is a continuous function of speed.
double vortex_coefficient(double reynolds, double relative_gap) {
  const double fit = std::max({2.0 * std::pow(reynolds, -0.6), 1.03 * std::pow(reynolds, -0.5),
                               0.065 * std::pow(reynolds, -0.2)});
  return std::pow(relative_gap, 0.3) * fit;
}

double turbulent_coefficient(double reynolds, double relative_gap) {
  return std::pow(relative_gap, 0.3) * 0.065 * std::pow(reynolds, -0.2);
}

// One face of a disc without hole: M = C ρ ω² R⁵ with the coefficients of one face.
double face_coefficient(double reynolds, double relative_distance) {
  if (relative_distance <= 0.0)
    return 0.25 * std::max(3.87 / std::sqrt(reynolds), 0.146 * std::pow(reynolds, -0.2));
  const double s = relative_distance;
  const double laminar =
      std::max(2 * pi / (s * reynolds), 3.70 * std::pow(s, 0.1) / std::sqrt(reynolds));
  const double turbulent = std::max(0.080 * std::pow(s, -1.0 / 6) * std::pow(reynolds, -0.25),
                                    0.102 * std::pow(s, 0.1) * std::pow(reynolds, -0.2));
  return 0.25 * std::max(laminar, turbulent);
}

// Friction coefficient τ/(½ρv²) of a cylinder in the open: 1/√c = −0.6 + 4.07 lg(Re √c).
double open_coefficient(double reynolds) {
  const double laminar = 4.0 / reynolds;
  if (reynolds < 50.0) return laminar;  // the larger one there, and the rounds below converge
  double inverse_root = 10.0;
  for (int round = 0; round < 60; ++round)
    inverse_root = std::max(1.0, -0.6 + 4.07 * std::log10(reynolds / inverse_root));
  return std::max(laminar, 1.0 / square(inverse_root));
}

void check(const Bearing& b) {
  require(b.count >= 0 && b.bore >= 0 && b.load >= 0 && b.friction >= 0 && b.seal_torque >= 0,
          b.name, "count, bore, load, friction and seal torque must not be negative");
}
void check(const ShaftSeal& s) {
  require(s.count >= 0 && s.shaft_diameter >= 0 && s.lip_force >= 0 && s.friction >= 0 &&
              s.measured_torque >= 0,
          s.name, "count, diameter, lip force, friction and torque must not be negative");
}
void check(const GapWindage& g) {
  require(g.inner_radius > 0 && g.outer_radius > g.inner_radius && g.length >= 0, g.name,
          "the outer radius must exceed the inner one, and the length must not be negative");
}
void check(const OpenCylinderWindage& c) {
  require(c.radius > 0 && c.length >= 0, c.name, "radius and length must be positive");
}
void check(const DiscWindage& d) {
  require(d.faces >= 0 && d.inner_radius >= 0 && d.outer_radius > d.inner_radius &&
              d.wall_distance >= 0,
          d.name, "the outer radius must exceed the inner one, and nothing may be negative");
}

// What a part does: its sides and the size of its drag at these speeds.
struct Drag {
  Sides sides;
  double torque = 0.0;
};

Drag drag(const Bearing& b, const MemberSpeeds&) {
  return {b.sides, b.count * (b.friction * b.load * b.bore / 2 + b.seal_torque)};
}
Drag drag(const ShaftSeal& s, const MemberSpeeds&) {
  const double lip = s.friction * s.lip_force * pi * square(s.shaft_diameter) / 2;
  return {s.sides, s.count * (s.measured_torque > 0 ? s.measured_torque : lip)};
}
Drag drag(const GapWindage& g, const MemberSpeeds& speeds) {
  return {{g.inside, g.outside}, gap_windage_torque(g, speeds.of(g.inside), speeds.of(g.outside))};
}
Drag drag(const OpenCylinderWindage& c, const MemberSpeeds& speeds) {
  return {{c.part, TurnsWith::housing}, open_cylinder_torque(c, speeds.of(c.part))};
}
Drag drag(const DiscWindage& d, const MemberSpeeds& speeds) {
  const double relative = speeds.of(d.sides.one) - speeds.of(d.sides.other);
  return {d.sides, d.faces * disc_windage_torque(d, relative)};
}

}  // namespace

double gap_windage_torque(const GapWindage& gap, double inner, double outer) {
  const double r1 = gap.inner_radius, r2 = gap.outer_radius, speed = std::abs(inner - outer);
  if (speed == 0.0) return 0.0;
  const double laminar = 4 * pi * gap.fluid.viscosity * gap.length * square(r1 * r2) /
                         (square(r2) - square(r1)) * speed;
  const double reynolds = speed * r1 * (r2 - r1) / gap.fluid.kinematic_viscosity();
  // Rayleigh: where angular momentum rises outwards the flow stays laminar until it is turbulent.
  const bool vortices =
      std::abs(inner) * square(r1) > std::abs(outer) * square(r2) || inner * outer < 0;
  const double relative_gap = (r2 - r1) / r1;
  const double coefficient = vortices         ? vortex_coefficient(reynolds, relative_gap)
                             : reynolds > 1e4 ? turbulent_coefficient(reynolds, relative_gap)
                                              : 0.0;
  const double fitted =
      0.5 * coefficient * gap.fluid.density * pi * square(speed) * square(square(r1)) * gap.length;
  return std::max(laminar, fitted);
}

double disc_windage_torque(const DiscWindage& disc, double relative_speed) {
  const double w = std::abs(relative_speed), r = disc.outer_radius;
  if (w == 0.0) return 0.0;
  const double reynolds = w * square(r) / disc.fluid.kinematic_viscosity();
  const double hole = 1.0 - std::pow(disc.inner_radius / r, 4);  // laminar: moment grows as R⁴
  return face_coefficient(reynolds, disc.wall_distance / r) * disc.fluid.density * square(w) *
         std::pow(r, 5) * hole;
}

double open_cylinder_torque(const OpenCylinderWindage& cylinder, double speed) {
  const double w = std::abs(speed), r = cylinder.radius;
  if (w == 0.0) return 0.0;
  const double reynolds = w * square(r) / cylinder.fluid.kinematic_viscosity();
  const double stress = open_coefficient(reynolds) * 0.5 * cylinder.fluid.density * square(w * r);
  return stress * 2 * pi * square(r) * cylinder.length;
}

std::vector<FrictionLoss> friction_losses(const std::vector<FrictionPart>& parts,
                                          const MemberSpeeds& speeds) {
  std::vector<FrictionLoss> losses;
  for (const FrictionPart& part : parts)
    std::visit(
        [&](const auto& p) {
          check(p);
          const Drag d = drag(p, speeds);
          const double relative = speeds.of(d.sides.one) - speeds.of(d.sides.other);
          const double torque = relative == 0.0 ? 0.0 : -std::copysign(d.torque, relative);
          losses.push_back({p.name, d.sides, torque, -torque * relative});
        },
        part);
  return losses;
}

double total_power(const std::vector<FrictionLoss>& losses) {
  double sum = 0.0;
  for (const FrictionLoss& loss : losses) sum += loss.power;
  return sum;
}

double torque_on(Member member, const std::vector<FrictionLoss>& losses) {
  const TurnsWith side = turning_with(member);
  double sum = 0.0;
  for (const FrictionLoss& loss : losses) {
    if (loss.sides.one == side) sum += loss.torque_on_one;
    if (loss.sides.other == side) sum -= loss.torque_on_one;
  }
  return sum;
}

}  // namespace lodegear
