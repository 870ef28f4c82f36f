// solver/post/friction.h — drag of bearings, shaft seals and air, from stated data.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <variant>
#include <vector>

#include "solver/motion/drive.h"
#include "solver/post/air.h"

namespace lodegear {

// Every part drags between two sides that turn at different speeds; a side is a member, with all
// that is fixed to it, or the housing. Drag torques are magnitudes [N·m] as functions of the
// relative speed [rad/s]; they are zero at rest (what a dry seal holds at rest is not a loss).

/// The two sides of a drag.
struct Sides {
  TurnsWith one = TurnsWith::sun;
  TurnsWith other = TurnsWith::housing;
};

/// µ of M = µ P d/2 for deep-groove ball bearings, d the bore; makers give 0.0013 to 0.0015 (from
/// memory). Grease, tight fits and misalignment can double it.
inline constexpr double usual_bearing_friction = 0.0015;

/// Drag of the two rubbing seals of one small ball bearing together [N·m]: 5 to 30 mN·m for bores
/// of 10 to 20 mm (from memory, ±a factor of two; falls as the seals wear in). Contactless shields
/// have none.
inline constexpr double usual_rubbing_seals = 0.010;

/// `count` like rolling bearings: M = µ P d/2 + seals each, whatever the speed.       (theory 11.1)
struct Bearing {
  std::string name = "bearing";
  Sides sides{};
  int count = 1;
  double bore = 0.0;                         ///< d, m
  double load = 0.0;                         ///< P of each, N: weight, pull, belt; equivalent load
  double friction = usual_bearing_friction;  ///< µ
  double seal_torque = 0.0;                  ///< of each, N·m; 0 = open or shielded
};

/// Lip force on a metre of shaft circumference [N/m] and its friction, for a spring-loaded radial
/// shaft seal (from memory, ±50 %).
inline constexpr double usual_lip_force = 100.0;
inline constexpr double usual_lip_friction = 0.35;

/// `count` radial shaft seals: M = µ f π d · d/2 each, or as measured.                (theory 11.2)
struct ShaftSeal {
  std::string name = "shaft seal";
  Sides sides{};
  int count = 1;
  double shaft_diameter = 0.0;  ///< d, m
  double lip_force = usual_lip_force;
  double friction = usual_lip_friction;
  double measured_torque = 0.0;  ///< of each, N·m; above 0 it stands in place of the formula
};

/// Fluid sheared between two coaxial cylinders. (theory 11.3, 11.4)
struct GapWindage {
  std::string name = "gap windage";
  TurnsWith inside = TurnsWith::sun;
  TurnsWith outside = TurnsWith::modulator;
  double inner_radius = 0.0, outer_radius = 0.0, length = 0.0;  // m
  Fluid fluid = air_at(40.0);
};

/// The outside of a cylinder that turns in the open.                                 (theory 11.5)
struct OpenCylinderWindage {
  std::string name = "outside windage";
  TurnsWith part = TurnsWith::ring;
  double radius = 0.0, length = 0.0;  // m
  Fluid fluid = air_at(40.0);
};

/// One side of a disc that turns in the open, or before a standing wall.             (theory 11.6)
struct DiscWindage {
  std::string name = "end windage";
  Sides sides{};
  int faces = 1;
  double inner_radius = 0.0, outer_radius = 0.0;  // m
  double wall_distance = 0.0;                     ///< m; 0 = no wall
  Fluid fluid = air_at(40.0);
};

using FrictionPart = std::variant<Bearing, ShaftSeal, GapWindage, OpenCylinderWindage, DiscWindage>;

/// What one part takes at given speeds.
struct FrictionLoss {
  std::string name;
  Sides sides{};
  double torque_on_one = 0.0;  ///< N·m, counter-clockwise; on the other side it is the opposite
  double power = 0.0;          ///< W, ≥ 0: heat
};

/// Each part's drag; lies against the relative motion of its sides. Throws std::invalid_argument
/// for lengths, loads or counts below zero and for a gap without width.
std::vector<FrictionLoss> friction_losses(const std::vector<FrictionPart>& parts,
                                          const MemberSpeeds& speeds);

/// Sum of the powers [W].
double total_power(const std::vector<FrictionLoss>& losses);

/// Drag on one member [N·m], counter-clockwise positive.
double torque_on(Member member, const std::vector<FrictionLoss>& losses);

/// Torque [N·m, magnitude] between coaxial cylinders of which the inner turns at `inner` and the
/// outer at `outer` rad/s: laminar exactly,
///   M = 4π η L r1² r2²/(r2² − r1²) |ω1 − ω2| (theory 11.3)
/// or the largest of three fits to measurements with vortices and turbulence (11.4) where they
/// give more. Sources: Landau, Lifshitz, Fluid Mechanics, §18; Bilgen, Boulos, J. Fluids Eng. 95
/// (1973) 122 (fits from memory).
double gap_windage_torque(const GapWindage& gap, double inner, double outer);

/// Both ways to turn a disc in still air or near a wall, one face [N·m]. Sources: Kármán, ZAMM 1
/// (1921) 233, Cochran, Proc. Camb. Phil. Soc. 30 (1934) 365; Daily, Nece, J. Basic Eng. 82 (1960)
/// 217 (all coefficients from memory).                                              (theory 11.6)
double disc_windage_torque(const DiscWindage& disc, double relative_speed);

/// Outside of a cylinder in still air [N·m]. Source of the turbulent branch: Theodorsen, Regier,
/// NACA Report 793 (1944) (from memory).                                            (theory 11.5)
double open_cylinder_torque(const OpenCylinderWindage& cylinder, double speed);

}  // namespace lodegear
