// solver/post/mechanics.cpp — short formulas for bars, rings, shafts and bearings.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/mechanics.h"

#include <cmath>
#include <limits>

#include "materials/constants.h"

namespace lodegear {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

double polar_moment(const Shaft& shaft) {
  return pi / 32 * (std::pow(shaft.diameter, 4) - std::pow(shaft.inner_diameter, 4));
}

double key_lever(const Key& key, double shaft_diameter) {
  return shaft_diameter / 2 * (key.length - key.width);
}

}  // namespace

double beam_deflection(Ends ends, double load, double length, double bending_stiffness) {
  if (load == 0.0) return 0.0;
  if (bending_stiffness <= 0.0) return infinite;
  const double factor = ends == Ends::supported ? 5.0 / 384
                        : ends == Ends::clamped ? 1.0 / 384
                                                : 1.0 / 8;
  return factor * load * std::pow(length, 4) / bending_stiffness;
}

double beam_moment(Ends ends, double load, double length) {
  const double factor = ends == Ends::supported ? 1.0 / 8
                        : ends == Ends::clamped ? 1.0 / 12
                                                : 1.0 / 2;
  return factor * load * length * length;
}

double rectangle_second_moment(double width, double height) {
  return width * std::pow(height, 3) / 12;
}
double circle_second_moment(double diameter) { return pi * std::pow(diameter, 4) / 64; }

double bending_stiffness(const PoleBar& bar) {
  double sum = 0.0;
  if (bar.bonded) sum += bar.youngs_modulus * rectangle_second_moment(bar.width, bar.height);
  if (bar.rod) sum += bar.rod->youngs_modulus * circle_second_moment(bar.rod->diameter);
  return sum;
}

double deflection(const PoleBar& bar, double load) {
  return beam_deflection(bar.ends, load, bar.length, bending_stiffness(bar));
}

double web_deflection(double load, double web_length, double web_thickness, double youngs_modulus) {
  return load * std::pow(web_length / web_thickness, 3) / (2 * youngs_modulus);
}

double ring_growth(double pressure, double radius, double thickness, double youngs_modulus) {
  return pressure * radius * radius / (youngs_modulus * thickness);
}

std::optional<double> settled_displacement(double pull, double eccentricity, double stiffness,
                                           double negative_stiffness) {
  if (stiffness <= negative_stiffness) return std::nullopt;
  return (pull + negative_stiffness * eccentricity) / (stiffness - negative_stiffness);
}

double torsion_stress(const Shaft& shaft, double torque) {
  return torque * shaft.diameter / 2 / polar_moment(shaft);
}
double torsion_twist(const Shaft& shaft, double torque, double length, double shear_modulus) {
  return torque * length / (shear_modulus * polar_moment(shaft));
}

double key_pressure(const Key& key, double shaft_diameter, double torque) {
  return torque / (key_lever(key, shaft_diameter) * (key.height - key.shaft_depth));
}
double key_shear(const Key& key, double shaft_diameter, double torque) {
  return torque / (key_lever(key, shaft_diameter) * key.width);
}

double bearing_life(Rolling rolling, double rating, double load) {
  if (load <= 0.0) return infinite;
  return 1e6 * std::pow(rating / load, rolling == Rolling::balls ? 3.0 : 10.0 / 3);
}
double bearing_life_time(Rolling rolling, double rating, double load, double angular_speed) {
  return bearing_life(rolling, rating, load) * 2 * pi / std::abs(angular_speed);
}

}  // namespace lodegear
